using System.Text;

namespace ShopDiag.Obd.Logs;

/// <summary>Lines of a reader, none longer than a whole message could be: the rest of a longer one is dropped as it comes, so that it needs no memory.</summary>
internal sealed class BoundedLines(TextReader reader)
{
    /// <summary>4095 bytes as <c>41 </c> with room.</summary>
    private const int Longest = 16384;

    private readonly char[] _buffer = new char[4096];
    private readonly StringBuilder _line = new();
    private int _at;
    private int _end;

    /// <summary>Number of the line given last, from 1 on.</summary>
    public int Number { get; private set; }

    /// <summary>Characters read so far.</summary>
    public long Characters { get; private set; }

    /// <summary>True when the line given last was longer than it may be.</summary>
    public bool WasCut { get; private set; }

    public bool TryNext(out string line)
    {
        _line.Clear();
        WasCut = false;
        var any = false;
        while (Fill())
        {
            any = true;
            var span = _buffer.AsSpan(_at, _end - _at);
            var end = span.IndexOf('\n');
            Append(end < 0 ? span : span[..end]);
            _at += end < 0 ? span.Length : end + 1;

            // Checked here too: one endless line must not be read to its end.
            if (end >= 0 || Characters > ObdLog.MostCharacters)
            {
                break;
            }
        }

        Number += any ? 1 : 0;
        line = _line.ToString();
        return any;
    }

    private bool Fill()
    {
        if (_at < _end)
        {
            return true;
        }

        (_at, _end) = (0, reader.Read(_buffer));
        Characters += _end;
        return _end > 0;
    }

    private void Append(ReadOnlySpan<char> part)
    {
        var room = Longest - _line.Length;
        WasCut |= part.Length > room;
        _line.Append(part[..Math.Min(room, part.Length)]);
    }
}
