namespace ShopDiag.Signals.Waveforms.Csv;

/// <summary>The lines of a stream, one after the other, as bytes of one buffer: nothing is copied and nothing is kept.</summary>
internal sealed class ByteLines(Stream stream)
{
    /// <summary>Longest line, bytes: some thousand columns. A longer one is no table.</summary>
    public const int LongestLine = 64 << 10;

    /// <summary>Bytes that can be looked at before the first line is taken.</summary>
    public const int HeadBytes = 256 << 10;

    private readonly byte[] _buffer = new byte[HeadBytes + LongestLine];
    private int _from;
    private int _to;
    private bool _ended;

    /// <summary>Number of the line taken last, from 1 on.</summary>
    public long Number { get; private set; }

    /// <summary>Bytes read from the stream.</summary>
    public long BytesRead { get; private set; }

    /// <summary>True when the line taken last is longer than <see cref="LongestLine"/>.</summary>
    public bool TooLong { get; private set; }

    /// <summary>True when the line taken last is ended by a line break, not by the end of the stream.</summary>
    public bool Whole { get; private set; }

    /// <summary>The first bytes, without taking them; <paramref name="all"/> when they are the whole stream.</summary>
    public ReadOnlySpan<byte> Head(out bool all)
    {
        Fill(HeadBytes);
        all = _ended;
        return _buffer.AsSpan(_from, Math.Min(HeadBytes, _to - _from));
    }

    /// <summary>Takes bytes off the front, such as a byte order mark.</summary>
    public void Skip(int count) => _from += count;

    /// <summary>The next line without its break; false at the end and at a line that is too long. It is valid until the next call.</summary>
    public bool Next(out ReadOnlySpan<byte> line)
    {
        var searched = 0;
        while (true)
        {
            var rest = _buffer.AsSpan(_from, _to - _from);
            var at = rest[searched..].IndexOfAny((byte)'\n', (byte)'\r');
            if (at >= 0)
            {
                // A carriage return at the very end of the buffer may belong to a line feed that is not read yet.
                at += searched;
                if (at <= LongestLine && rest[at] == '\r' && at + 1 == rest.Length && !_ended)
                {
                    Fill(rest.Length + 1);
                    continue;
                }

                var breaks = rest[at] == '\r' && at + 1 < rest.Length && rest[at + 1] == '\n' ? 2 : 1;
                return Take(rest[..at], breaks, out line);
            }

            if (rest.Length > LongestLine)
            {
                (TooLong, Number) = (true, Number + 1);
                line = default;
                return false;
            }

            if (_ended)
            {
                line = default;
                return rest.Length > 0 && Take(rest, 0, out line);
            }

            searched = rest.Length;
            Fill(rest.Length + 1);
        }
    }

    private bool Take(ReadOnlySpan<byte> text, int breaks, out ReadOnlySpan<byte> line)
    {
        line = text;
        _from += text.Length + breaks;
        Whole = breaks > 0;
        Number++;
        TooLong = text.Length > LongestLine;
        return !TooLong;
    }

    /// <summary>Reads until so many bytes are there or the stream ends.</summary>
    private void Fill(int wanted)
    {
        if (_to - _from >= wanted || _ended)
        {
            return;
        }

        Buffer.BlockCopy(_buffer, _from, _buffer, 0, _to - _from);
        (_from, _to) = (0, _to - _from);
        while (_to < Math.Min(wanted, _buffer.Length))
        {
            var got = stream.Read(_buffer, _to, _buffer.Length - _to);
            if (got <= 0)
            {
                _ended = true;
                return;
            }

            _to += got;
            BytesRead += got;
        }
    }
}
