namespace ShopDiag.Load.Protocol;

/// <summary>An element, a text, or the place where a component's own nodes stand.</summary>
internal sealed class Node(Node? parent, string? element, string text = "")
{
    public Node? Parent => parent;

    /// <summary>Null for texts and components.</summary>
    public string? Element => element;

    public string Text { get; set; } = text;

    public List<Node> Children { get; } = [];

    public Dictionary<string, string> Attributes { get; } = [];

    /// <summary>Number of the handler now, by attribute (<c>onclick</c>): it changes whenever the component is drawn again.</summary>
    public Dictionary<string, long> Handlers { get; } = [];

    public string? this[string attribute] => Attributes.GetValueOrDefault(attribute);

    public bool HasClass(string name) => this["class"]?.Split(' ').Contains(name) == true;

    /// <summary>The first node below that fits, in reading order; itself if it fits.</summary>
    public Node? Find(Func<Node, bool> fits) => fits(this) ? this : Children.Select(c => c.Find(fits)).FirstOrDefault(n => n is not null);
}

/// <summary>A page as the browser would have it: what the server sent, applied edit by edit.</summary>
internal sealed class PageTree
{
    private readonly Dictionary<int, Node> _components = [];

    /// <summary>The components that stand by themselves in the page.</summary>
    public List<Node> Roots { get; } = [];

    public Node? Find(Func<Node, bool> fits) => Roots.Select(r => r.Find(fits)).FirstOrDefault(n => n is not null);

    public Node? WithId(string id) => Find(n => n["id"] == id);

    /// <summary>A component that the server puts into the page.</summary>
    public void Attach(int component)
    {
        var root = new Node(null, null);
        _components[component] = root;
        Roots.Add(root);
    }

    public void Apply(RenderBatch batch)
    {
        for (var i = 0; i < batch.Components; i++)
        {
            var (component, edits) = batch.Changes(i);
            Apply(batch, _components[component], edits);
        }

        foreach (var gone in batch.Disposed())
        {
            _components.Remove(gone);
        }
    }

    private void Apply(RenderBatch batch, Node at, Edit[] edits)
    {
        List<(int From, int To)> moves = [];
        foreach (var edit in edits)
        {
            switch (edit.Kind)
            {
                case EditKind.Prepend:
                    Insert(batch, at, edit.Sibling, edit.Other);
                    break;
                case EditKind.Remove:
                    at.Children.RemoveAt(edit.Sibling);
                    break;
                case EditKind.SetAttribute:
                    Set(at.Children[edit.Sibling], batch.Frame(edit.Other));
                    break;
                case EditKind.RemoveAttribute:
                    at.Children[edit.Sibling].Attributes.Remove(edit.Name!);
                    at.Children[edit.Sibling].Handlers.Remove(edit.Name!);
                    break;
                case EditKind.UpdateText or EditKind.UpdateMarkup:
                    at.Children[edit.Sibling].Text = batch.Frame(edit.Other).Value ?? "";
                    break;
                case EditKind.StepIn:
                    at = at.Children[edit.Sibling];
                    break;
                case EditKind.StepOut:
                    at = at.Parent!;
                    break;
                case EditKind.Permute:
                    moves.Add((edit.Sibling, edit.Other));
                    break;
                case EditKind.PermuteEnd:
                    Permute(at.Children, moves);
                    moves.Clear();
                    break;
                default:
                    throw new InvalidOperationException($"Edit {edit.Kind} is not known.");
            }
        }
    }

    // How many nodes a frame becomes: a region's stand among its siblings, some frames leave none.
    private int Insert(RenderBatch batch, Node parent, int at, int index)
    {
        var frame = batch.Frame(index);
        switch (frame.Kind)
        {
            case FrameKind.Element:
                var element = new Node(parent, frame.Name);
                parent.Children.Insert(at, element);
                var next = index + 1;
                for (; next < index + frame.Length && batch.Frame(next).Kind == FrameKind.Attribute; next++)
                {
                    Set(element, batch.Frame(next));
                }

                InsertRange(batch, element, 0, next, index + frame.Length);
                return 1;
            case FrameKind.Component:
                var component = new Node(parent, null);
                parent.Children.Insert(at, component);
                _components[frame.Component] = component;
                return 1;
            case FrameKind.Region:
                return InsertRange(batch, parent, at, index + 1, index + frame.Length);
            case FrameKind.Text or FrameKind.Markup:
                parent.Children.Insert(at, new Node(parent, null, frame.Value ?? ""));
                return 1;
            default:
                return 0;
        }
    }

    private int InsertRange(RenderBatch batch, Node parent, int at, int from, int to)
    {
        var first = at;
        for (var i = from; i < to; i += Math.Max(1, batch.Frame(i).Length))
        {
            at += Insert(batch, parent, at, i);
        }

        return at - first;
    }

    private static void Set(Node element, Frame attribute)
    {
        if (attribute.Handler != 0)
        {
            element.Handlers[attribute.Name!] = attribute.Handler;
        }
        else
        {
            element.Attributes[attribute.Name!] = attribute.Value ?? "";
        }
    }

    private static void Permute(List<Node> children, List<(int From, int To)> moves)
    {
        var before = children.ToArray();
        foreach (var (from, to) in moves)
        {
            children[to] = before[from];
        }
    }
}
