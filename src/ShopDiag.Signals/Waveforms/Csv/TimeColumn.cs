namespace ShopDiag.Signals.Waveforms.Csv;

/// <summary>
/// The times of all rows, kept small: of a block of rows only its first time and its step, and how far each row is off that line where it is off at all. An even file of ten million rows
/// costs some kilobytes, any other four bytes a row.
/// </summary>
internal sealed class TimeColumn
{
    private const int BlockLength = 4096;

    /// <summary>Rows nearer to the line than this share of a step need not be told apart from it.</summary>
    private const double OnTheLine = 1e-3;

    private readonly List<(double First, double Step, float[]? Off)> _blocks = [];
    private readonly double[] _pending = new double[BlockLength];
    private int _inPending;

    public int Count { get; private set; }

    public double First { get; private set; }

    public double Last { get; private set; } = double.NegativeInfinity;

    /// <summary>Rows with the same time as the row before: the file's clock is coarser than its samples.</summary>
    public int Repeats { get; private set; }

    public double LongestStep { get; private set; }

    /// <summary>Line of the row behind the longest step.</summary>
    public long LongestStepLine { get; private set; }

    /// <summary>Adds the time of the next row; false when it is before the last one.</summary>
    public bool Add(double time, long line)
    {
        if (Count > 0)
        {
            var step = time - Last;
            if (step < 0)
            {
                return false;
            }

            Repeats += step == 0 ? 1 : 0;
            if (step > LongestStep)
            {
                (LongestStep, LongestStepLine) = (step, line);
            }
        }
        else
        {
            First = time;
        }

        Last = time;
        Count++;
        _pending[_inPending++] = time;
        if (_inPending == BlockLength)
        {
            Close();
        }

        return true;
    }

    public double this[int row]
    {
        get
        {
            var (block, at) = (row / BlockLength, row % BlockLength);
            if (block == _blocks.Count)
            {
                return _pending[at];
            }

            var (first, step, off) = _blocks[block];
            return first + (at * step) + (off is null ? 0 : off[at]);
        }
    }

    private void Close()
    {
        var first = _pending[0];
        var step = (_pending[BlockLength - 1] - first) / (BlockLength - 1);
        var most = 0.0;
        for (var i = 0; i < BlockLength; i++)
        {
            most = Math.Max(most, Math.Abs(_pending[i] - (first + (i * step))));
        }

        _blocks.Add((first, step, most <= OnTheLine * step ? null : Array.ConvertAll(_pending, Off())));
        _inPending = 0;

        Converter<double, float> Off()
        {
            var i = 0;
            return t => (float)(t - (first + (i++ * step)));
        }
    }
}
