namespace ShopDiag.Storage.Data;

/// <summary>Lines of a stream, none longer than a bound: a file from outside must not fill the memory.</summary>
/// <param name="stream">Read as far as is asked for.</param>
/// <param name="longest">Longest line, bytes.</param>
internal sealed class BoundedLines(Stream stream, int longest)
{
    private byte[] _buffer = new byte[64 * 1024];
    private int _start;
    private int _end;

    /// <summary>Number of the line read last, from 1.</summary>
    public long Number { get; private set; }

    /// <summary>The next line without its end, good until the one after it is asked for; null at the end. Throws <see cref="ShopDataException"/> for one that is too long.</summary>
    public ReadOnlyMemory<byte>? Next()
    {
        var looked = 0;
        while (true)
        {
            var at = _buffer.AsSpan(_start + looked, _end - _start - looked).IndexOf((byte)'\n');
            if (at >= 0)
            {
                return Take(looked + at, 1);
            }

            looked = _end - _start;
            if (looked > longest)
            {
                throw new ShopDataException($"Line {Number + 1}: it is longer than any that the verb export writes.");
            }

            if (!Fill())
            {
                // Not as a choice in one expression: there null would become an empty line.
                if (looked == 0)
                {
                    return null;
                }

                return Take(looked, 0);
            }
        }
    }

    private ReadOnlyMemory<byte> Take(int length, int end)
    {
        var line = _buffer.AsMemory(_start, length);
        _start += length + end;
        Number++;
        return line;
    }

    private bool Fill()
    {
        if (_start > 0)
        {
            _buffer.AsSpan(_start, _end - _start).CopyTo(_buffer);
            (_start, _end) = (0, _end - _start);
        }

        if (_end == _buffer.Length)
        {
            Array.Resize(ref _buffer, 2 * _buffer.Length);
        }

        var read = stream.Read(_buffer, _end, _buffer.Length - _end);
        _end += read;
        return read > 0;
    }
}
