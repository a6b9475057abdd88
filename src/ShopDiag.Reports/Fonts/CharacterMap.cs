using System.Buffers.Binary;
using System.Text;

namespace ShopDiag.Reports.Fonts;

/// <summary>
/// Which characters a TrueType font has a glyph for, read from its <c>cmap</c> table (ISO/IEC 14496-22, clause 5.2, formats 4 and 12).
/// PDFsharp leaves a character without a glyph out and says nothing, so it is asked here first.
/// </summary>
internal sealed class CharacterMap
{
    private readonly HashSet<int> _covered = [];

    /// <summary>Reads a font file. Throws <see cref="InvalidDataException"/> when it holds no Unicode map.</summary>
    public CharacterMap(byte[] font)
    {
        var cmap = Table(font, "cmap"u8);
        var count = U16(cmap, 2);
        for (var i = 0; i < count; i++)
        {
            var record = cmap[(4 + (8 * i))..];
            if (IsUnicode(platform: U16(record, 0), encoding: U16(record, 2)))
            {
                AddSubtable(cmap[checked((int)U32(record, 4))..]);
            }
        }

        if (_covered.Count == 0)
        {
            throw new InvalidDataException("The font holds no Unicode character map of format 4 or 12.");
        }
    }

    /// <summary>True when the font has a glyph for it.</summary>
    public bool Covers(Rune rune) => _covered.Contains(rune.Value);

    private static bool IsUnicode(int platform, int encoding) => platform == 0 || (platform == 3 && encoding is 1 or 10);

    private static ReadOnlySpan<byte> Table(ReadOnlySpan<byte> font, ReadOnlySpan<byte> tag)
    {
        var count = U16(font, 4);
        for (var i = 0; i < count; i++)
        {
            var record = font.Slice(12 + (16 * i), 16);
            if (record[..4].SequenceEqual(tag))
            {
                return font.Slice(checked((int)U32(record, 8)), checked((int)U32(record, 12)));
            }
        }

        throw new InvalidDataException($"The font has no {Encoding.ASCII.GetString(tag)} table.");
    }

    private void AddSubtable(ReadOnlySpan<byte> table)
    {
        switch (U16(table, 0))
        {
            case 4:
                AddSegments(table);
                break;
            case 12:
                AddGroups(table);
                break;
            default:
                break; // Formats 0, 6 and 14 repeat what 4 and 12 say.
        }
    }

    /// <summary>Format 4: four parallel arrays of segments, each mapping by a shift or through a glyph array.</summary>
    private void AddSegments(ReadOnlySpan<byte> table)
    {
        var segments = U16(table, 6) / 2;
        var ends = table[14..];
        var starts = table[(16 + (2 * segments))..];
        var shifts = starts[(2 * segments)..];
        var offsets = shifts[(2 * segments)..];
        for (var s = 0; s < segments; s++)
        {
            int start = U16(starts, 2 * s), end = U16(ends, 2 * s), shift = U16(shifts, 2 * s), offset = U16(offsets, 2 * s);
            for (var c = start; c <= end && c != 0xFFFF; c++)
            {
                var glyph = offset == 0 ? (c + shift) & 0xFFFF : U16(offsets, (2 * s) + offset + (2 * (c - start)));
                if (glyph != 0)
                {
                    _covered.Add(c);
                }
            }
        }
    }

    /// <summary>Format 12: runs of code points with runs of glyphs.</summary>
    private void AddGroups(ReadOnlySpan<byte> table)
    {
        var groups = U32(table, 12);
        for (var g = 0; g < groups; g++)
        {
            var group = table.Slice(16 + (12 * g), 12);
            for (var c = U32(group, 0); c <= U32(group, 4); c++)
            {
                _covered.Add(checked((int)c));
            }
        }
    }

    private static int U16(ReadOnlySpan<byte> bytes, int at) => BinaryPrimitives.ReadUInt16BigEndian(bytes[at..]);

    private static uint U32(ReadOnlySpan<byte> bytes, int at) => BinaryPrimitives.ReadUInt32BigEndian(bytes[at..]);
}
