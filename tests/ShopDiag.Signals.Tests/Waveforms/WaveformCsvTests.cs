using System.Globalization;
using System.Text;
using CsCheck;
using ShopDiag.Diagnosis;
using ShopDiag.Signals.Waveforms;
using ShopDiag.Signals.Waveforms.Csv;

namespace ShopDiag.Signals.Tests.Waveforms;

public sealed class WaveformCsvTests
{
    /// <summary>
    /// The same twenty samples, 0.5 ms apart, as different instruments and spreadsheets write them. The forms are made up from the sorts of head, separators, signs and units that files of samples have.
    /// </summary>
    public static TheoryData<string, string> Oddities { get; } = new()
    {
        // what                              the file; {t:...} and {v:...} stand for the time and the value of a row
        { "plain", "time,current\n[{t},{v}\n]" },
        { "no head", "[{t},{v}\n]" },
        { "units row", "Time,Channel A\n(s),(A)\n\n[{t},{v}\n]" },
        { "milliseconds in the head", "Time (ms);Current (A)\n[{t:ms};{v}\n]" },
        { "microseconds in a units row", "Time\tCurrent\nµs\tA\n[{t:us}\t{v}\n]" },
        { "unit behind an underscore", "time_ms,current_A\n[{t:ms},{v}\n]" },
        { "decimal comma", "Zeit;Strom\n(s);(A)\n[{t:comma};{v:comma}\n]" },
        { "decimal comma in milliseconds, tabs, CR LF", "Zeit\tStrom\r\nms\tA\r\n[{t:mscomma}\t{v:comma}\r\n]" },
        { "decimal comma in quotes between commas", "\"Time\",\"Current\"\n[\"{t:comma}\",\"{v:comma}\"\n]" },
        { "quotes", "\"Time, s\",\"Current, A\"\n[\"{t}\",\"{v}\"\n]" },
        { "CR alone", "time,current\r[{t},{v}\r]" },
        { "byte order mark", "\ufefftime,current\n[{t},{v}\n]" },
        { "exponents", "x,y\nsecond,Volt\n[{t:e},{v:e}\n]" },
        { "padded", "time , current\n[  {t} ,  {v}  \n]" },
        { "separator at the end", "time,current,\n[{t},{v},\n]" },
        { "long preamble", "Instrument,Handheld\nModel,4 channels\nRecord Length,20\nVertical Scale,1.0,V\nDate,2031-02-03 10:11:12\nComment,\"cold, cranking\"\n\nTIME,CH1\n[{t},{v}\n]" },
        { "preamble beside the rows", "Record Length,20,,{0}\nSample Interval,0.0005,,{1}\nTrigger Point,8,,{2}\n[,,,{t},{v},\n]" },
        { "rate in the preamble", "Sample Rate: 2 kSa/s\nCurrent (A)\n[{v}\n]" },
        { "rate beside", "Sampling rate;2000;Hz\nCurrent;Voltage\nA;V\n[{v};1\n]" },
        { "interval with its unit", "Sample interval (ms),0.5\nchannel 1,channel 2\n[{v},2.0\n]" },
        { "increment below its name", "Sequence,CH1,Start,Increment\nnumber,A,0,0.0005\n[{n},{v},,\n]" },
        { "numbered rows with a time", "n,time,current\n[{n},{t},{v}\n]" },
        { "time last", "current,time\n[{v},{t}\n]" },
        { "clock", "time;current\n[10:00:0{t};{v}\n]" },
        { "date and clock", "time;current\n[2031-02-03 10:00:0{t};{v}\n]" },
        { "cut in the last line", "time,current\n[{t},{v}\n]0.01" },
        { "cut in the last number", "time,current\n[{t},{v}\n]0.0100,1" },
        { "a stray line", "time,current\n[{t},{v}\n]end of file\n" },
    };

    [Theory]
    [MemberData(nameof(Oddities))]
    public void The_same_samples_are_read_however_they_are_written(string what, string form)
    {
        var read = Read(Written(form));

        Assert.True(read.IsValid, $"{what}: {read.Error}");
        var waveform = read.Value.Waveform!;
        Assert.Equal((what, 2000.0), (what, Math.Round(waveform.SampleRate, 6)));
        Assert.Equal(Expected, waveform.Channels[0].Samples.Select(s => Math.Round(s, 4)).ToArray());
    }

    [Fact]
    public void Text_of_sixteen_bits_is_read_as_it_says()
    {
        foreach (var encoding in new Encoding[] { Encoding.Unicode, Encoding.BigEndianUnicode })
        {
            byte[] bytes = [.. encoding.GetPreamble(), .. encoding.GetBytes(Written("Time\tCurrent\n[{t}\t{v}\n]"))];

            Assert.Equal(20, WaveformCsv.Read(new MemoryStream(bytes), new()).Value.Waveform!.Length);
        }
    }

    [Fact]
    public void Names_and_units_are_those_of_the_file()
    {
        var waveform = Read(Written("Time (s),Ch A [mV],Clamp (A)\n[{t},{v},3.5\n]")).Value.Waveform!;

        Assert.Equal([("Ch A", "mV"), ("Clamp", "A")], waveform.Channels.Select(c => (c.Name, c.Unit!)));
        Assert.Equal(0.001375f, WaveformUnit.InBasicUnit(waveform.Channels[0])[1], 6);
    }

    [Fact]
    public void Cells_beyond_the_range_and_empty_ones_are_gaps()
    {
        var rows = Enumerable.Range(0, 24).Select(i => FormattableString.Invariant($"{i * 0.001:0.000},{i switch { 3 => "", 5 => "OL", 7 => "9.9E+37", 9 => "-∞", 11 => "\"\"", 13 => "####", _ => i.ToString(CultureInfo.InvariantCulture) }}"));
        var file = Read("time,current\n" + string.Join('\n', rows) + "\n").Value;

        Assert.Equal([3, 5, 7, 9, 11, 13], file.Waveform!.Channels[0].Samples.Index().Where(s => float.IsNaN(s.Item)).Select(s => s.Index));
        Assert.Contains("6 of 24", Assert.Single(file.Remarks), StringComparison.Ordinal);
    }

    [Fact]
    public void Times_of_few_digits_are_even()
    {
        // A thousand samples a second written to the hundredth: ten rows share a time.
        var rows = Enumerable.Range(0, 1000).Select(i => FormattableString.Invariant($"{Math.Floor(i / 10.0) / 100:0.00},{i}"));
        var file = Read("time,current\n" + string.Join('\n', rows) + "\n").Value;

        Assert.Equal(1000, file.Waveform!.SampleRate, 10.0);
        Assert.Equal(1000, file.Waveform.Length);
        Assert.Empty(file.Remarks);
    }

    [Fact]
    public void Uneven_times_are_set_on_even_ones_and_it_is_said()
    {
        var rows = new StringBuilder("time,current\n");
        for (var (i, t) = (0, 0.0); i < 200; i++, t += i is > 100 and < 120 ? 0.003 : 0.001)
        {
            rows.Append(CultureInfo.InvariantCulture, $"{t:0.0000},{10 * t:0.0000}\n");
        }

        var file = Read(rows.ToString()).Value;

        Assert.Contains("not even", Assert.Single(file.Remarks), StringComparison.Ordinal);
        Assert.Equal(1000, file.Waveform!.SampleRate, 1e-6);
        Assert.All(file.Waveform.Channels[0].Samples.Index(), s => Assert.Equal(s.Index * 0.01, s.Item, 1e-3));
    }

    [Fact]
    public void A_stated_rate_is_above_the_times_of_the_file()
    {
        var waveform = WaveformCsv.Read(Bytes(Written("time,current\n[{t},{v}\n]")), new() { SampleRate = 500 }).Value.Waveform!;

        Assert.Equal((500.0, 1), (waveform.SampleRate, waveform.Channels.Count));
    }

    [Fact]
    public void Chosen_columns_are_read_alone()
    {
        var waveform = WaveformCsv.Read(Bytes(Written("time,a,b\n[{t},7,{v}\n]")), new() { Channels = [3] }).Value.Waveform!;

        Assert.Equal("b", Assert.Single(waveform.Channels).Name);
    }

    [Theory]
    [InlineData("tooth time (s)\n", "")]
    [InlineData("tooth;seconds\n", "{n};")]
    public void Times_alone_are_events(string head, string before)
    {
        var text = head + string.Concat(Enumerable.Range(0, 60).Select(i => FormattableString.Invariant($"{before.Replace("{n}", $"{i + 1}", StringComparison.Ordinal)}{(0.001 * i) + (0.002 * (i / 35)):0.000000}\n")));

        var file = Read(text).Value;

        Assert.Null(file.Waveform);
        Assert.Equal(60, file.EventSeconds.Length);
        Assert.Equal(0.037, file.EventSeconds[35], 1e-9);
    }

    public static TheoryData<string, string, string, string> Refused { get; } = new()
    {
        // what                 the file                                                     where     what to do
        { "empty", "", "", "empty" },
        { "words", "no numbers\nat all\n", "", "No rows of numbers" },
        { "a few rows", "time,v\n0,1\n0.001,2\n0.002,3\n", "", "Only 3 rows" },
        { "zero bytes", "time,v\n\0\0\0", "", "not text" },
        { "no time", Written("v,w\n[{v},{v}\n]").Replace("1.25", "0.1", StringComparison.Ordinal), "rate", "state the samples" },
        { "numbered rows", Written("n,v\n[{n},{v}\n]"), "rate", "only numbers the rows" },
        { "unit unclear", Written("time,v\n[{n},{v}\n]"), "time", "s, ms or us" },
        { "time goes back", Written("time,v\n[{t},{v}\n]").Replace("0.0060,", "0.0001,", StringComparison.Ordinal), "line 14", "goes back" },
        { "comma for all", Written("time,v\n[{t:comma},{v:comma}\n]"), "line 2", "semicolons" },
        { "holes", Written("time,v\n[{t},{v}\n]") + "5000,1\n", "line 22", "too uneven" },
    };

    [Theory]
    [MemberData(nameof(Refused))]
    public void What_cannot_be_read_says_where_and_what_to_do(string what, string file, string at, string message)
    {
        var error = Read(file).Error;

        Assert.NotNull(error);
        Assert.Equal((what, at), (what, error.At));
        Assert.Contains(message, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_channel_that_stops_early_is_refused_by_name()
    {
        var text = string.Concat(Enumerable.Range(0, 70_000).Select(i => FormattableString.Invariant($"{i * 0.001:0.000},{(i < 30_000 ? "1" : "")},2\n")));

        Assert.Contains("clamp has no number", Read("time,clamp,other\n" + text).Error!.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_line_without_end_is_refused_without_holding_it()
    {
        var before = GC.GetAllocatedBytesForCurrentThread();
        var text = Written("time,v\n[{t},{v}\n]") + new string('7', 50 << 20);

        Assert.Contains("longer than", Read(text).Error!.Message, StringComparison.Ordinal);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 400L << 20);
    }

    [Fact]
    public void What_was_written_is_what_is_read()
    {
        var value = Gen.Select(Gen.Int[-999_999, 999_999], Gen.Int[-6, 6], (m, e) => (float)(m * Math.Pow(10, e)));
        Gen.Select(Gen.Int[1, 4], Gen.Int[20, 300], Gen.Int[0, 2], Gen.Bool, Gen.Int[0, 3], Gen.Int[1, 2_000_000]).SelectMany((channels, rows, separator, quoted, head, rate) =>
            value.Array[channels * rows].Select(values => (channels, rows, separator, quoted, head, rate, values))).Sample(
            c =>
            {
                var file = Read(Form(c.values, c.channels, c.separator, c.quoted, c.head, 200 + c.rate));

                Assert.True(file.IsValid, file.Error?.ToString());
                var waveform = file.Value.Waveform!;
                Assert.Equal(c.channels, waveform.Channels.Count);
                Assert.Equal(200 + c.rate, waveform.SampleRate, (200 + c.rate) * 1e-6);
                for (var i = 0; i < c.values.Length; i++)
                {
                    // Nine digits tell every float apart; the last place may be off by the division.
                    Assert.Equal(c.values[i], waveform.Channels[i % c.channels].Samples[i / c.channels], Math.Abs(c.values[i]) * 2e-7);
                }
            },
            iter: 400);
    }

    private static readonly double[] Expected = [.. Enumerable.Range(0, 20).Select(i => Math.Round(Value(i), 4))];

    private static double Value(int i) => 1.25 * Math.Sin(Math.PI / 2 * i) + (i / 8.0 * (i % 3));

    private static Parsed<WaveformFile> Read(string text) => WaveformCsv.Read(Bytes(text), new());

    private static MemoryStream Bytes(string text) => new(Encoding.UTF8.GetBytes(text));

    /// <summary>Puts twenty rows in the place of the part in brackets; rows named by number in the head are not repeated.</summary>
    private static string Written(string form)
    {
        var (from, to) = (form.IndexOf('['), form.LastIndexOf(']'));
        while (from >= 0 && !form[from..to].Contains("{v", StringComparison.Ordinal))
        {
            from = form.IndexOf('[', from + 1);
        }

        from = form.LastIndexOf('[', form.IndexOf("{v", StringComparison.Ordinal));
        var row = form[(from + 1)..to];
        var above = form[..from];
        var first = 0;
        for (; above.Contains($"{{{first}}}", StringComparison.Ordinal); first++)
        {
            above = above.Replace($"{{{first}}}", Row("{t},{v},", first), StringComparison.Ordinal);
        }

        return above + string.Concat(Enumerable.Range(first, 20 - first).Select(i => Row(row, i))) + form[(to + 1)..];
    }

    private static string Row(string form, int i)
    {
        var (t, v) = (i * 0.0005, Value(i));
        return form.Replace("{n}", i.ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal)
            .Replace("{t}", t.ToString("0.0000", CultureInfo.InvariantCulture), StringComparison.Ordinal)
            .Replace("{t:ms}", (1e3 * t).ToString("0.0", CultureInfo.InvariantCulture), StringComparison.Ordinal)
            .Replace("{t:us}", (1e6 * t).ToString("0", CultureInfo.InvariantCulture), StringComparison.Ordinal)
            .Replace("{t:e}", t.ToString("0.000E+00", CultureInfo.InvariantCulture), StringComparison.Ordinal)
            .Replace("{t:comma}", t.ToString("0.0000", CultureInfo.InvariantCulture).Replace('.', ','), StringComparison.Ordinal)
            .Replace("{t:mscomma}", (1e3 * t).ToString("0.0", CultureInfo.InvariantCulture).Replace('.', ','), StringComparison.Ordinal)
            .Replace("{v}", v.ToString("0.0000", CultureInfo.InvariantCulture), StringComparison.Ordinal)
            .Replace("{v:e}", v.ToString("0.0000000E+00", CultureInfo.InvariantCulture), StringComparison.Ordinal)
            .Replace("{v:comma}", v.ToString("0.0000", CultureInfo.InvariantCulture).Replace('.', ','), StringComparison.Ordinal);
    }

    private static string Form(float[] values, int channels, int separator, bool quoted, int head, double rate)
    {
        var between = ";\t,"[separator];
        var comma = between != ',' && head % 2 == 1;
        var text = new StringBuilder(head switch { 0 => "", 1 => "any words\n\n", 2 => $"Instrument{between}bench\nMemory{between}12{between}k\n", _ => "\ufeff" });
        if (head > 0)
        {
            text.Append("Time (s)").Append(string.Concat(Enumerable.Range(1, channels).Select(i => $"{between}CH{i} (V)"))).Append('\n');
        }

        for (var r = 0; r < values.Length / channels; r++)
        {
            var cells = new[] { (r / rate).ToString("0.############", CultureInfo.InvariantCulture) }.Concat(values[(r * channels)..((r + 1) * channels)].Select(v => v.ToString("G9", CultureInfo.InvariantCulture)));
            text.AppendJoin(between, cells.Select(c => comma ? c.Replace('.', ',') : c).Select(c => quoted ? $"\"{c}\"" : c)).Append(head % 2 == 0 ? "\r\n" : "\n");
        }

        return text.ToString();
    }
}
