using System.Buffers.Binary;
using System.Text;

namespace ShopDiag.Load.Protocol;

/// <summary>Kinds of edit, by the numbers of the wire.</summary>
internal enum EditKind
{
    Prepend = 1,
    Remove = 2,
    SetAttribute = 3,
    RemoveAttribute = 4,
    UpdateText = 5,
    StepIn = 6,
    StepOut = 7,
    UpdateMarkup = 8,
    Permute = 9,
    PermuteEnd = 10,
}

/// <summary>Kinds of frame, by the numbers of the wire; those that leave nothing in the page are not named.</summary>
internal enum FrameKind
{
    Element = 1,
    Text = 2,
    Attribute = 3,
    Component = 4,
    Region = 5,
    Markup = 8,
}

/// <summary>One edit: where among its siblings, and the frame or the other place it is about.</summary>
internal readonly record struct Edit(EditKind Kind, int Sibling, int Other, string? Name);

/// <summary>One frame: <paramref name="Length"/> counts itself and what stands within it.</summary>
internal readonly record struct Frame(FrameKind Kind, int Length, int Component, string? Name, string? Value, long Handler);

/// <summary>
/// A message <c>JS.RenderBatch</c>: what has changed on a page. Little-endian; five offsets at its end say where the changed components, the frames, the disposed components and handlers and the table of texts
/// begin. The layout is that of ASP.NET Core's RenderBatchWriter, read from its public source.
/// </summary>
internal readonly struct RenderBatch(byte[] data)
{
    private const int EditSize = 16;
    private const int FrameSize = 20;

    public int Components => Int(Section(0));

    /// <summary>The component that entry <paramref name="index"/> is about, and its edits.</summary>
    public (int Component, Edit[] Edits) Changes(int index)
    {
        var entry = Int(Section(0) + 4 + (index * 4));
        var edits = new Edit[Int(entry + 4)];
        for (var i = 0; i < edits.Length; i++)
        {
            var at = entry + 8 + (i * EditSize);
            edits[i] = new((EditKind)Int(at), Int(at + 4), Int(at + 8), Text(Int(at + 12)));
        }

        return (Int(entry), edits);
    }

    public Frame Frame(int index)
    {
        var at = Section(1) + 4 + (index * FrameSize);
        var kind = (FrameKind)Int(at);
        return kind switch
        {
            FrameKind.Element => new(kind, Int(at + 4), 0, Text(Int(at + 8)), null, 0),
            FrameKind.Attribute => new(kind, 1, 0, Text(Int(at + 4)), Text(Int(at + 8)), BinaryPrimitives.ReadInt64LittleEndian(data.AsSpan(at + 12))),
            FrameKind.Component => new(kind, Int(at + 4), Int(at + 8), null, null, 0),
            FrameKind.Region => new(kind, Int(at + 4), 0, null, null, 0),
            FrameKind.Text or FrameKind.Markup => new(kind, 1, 0, null, Text(Int(at + 4)), 0),
            _ => new(kind, 1, 0, null, null, 0),
        };
    }

    public IEnumerable<int> Disposed()
    {
        var at = Section(2);
        for (var i = 0; i < Int(at); i++)
        {
            yield return Int(at + 4 + (i * 4));
        }
    }

    private int Section(int number) => Int(data.Length - 20 + (number * 4));

    private int Int(int at) => BinaryPrimitives.ReadInt32LittleEndian(data.AsSpan(at));

    private string? Text(int index)
    {
        if (index < 0)
        {
            return null;
        }

        var at = Int(Section(4) + (index * 4));
        var (length, shift) = (0, 0);
        byte part;
        do
        {
            part = data[at++];
            length |= (part & 0x7F) << shift;
            shift += 7;
        }
        while ((part & 0x80) != 0);
        return Encoding.UTF8.GetString(data, at, length);
    }
}
