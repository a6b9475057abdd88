using System.Globalization;
using System.Text;

namespace ShopDiag.Reports.Layout;

/// <summary>A stretch of text in one weight. Runs of one paragraph meet at a blank or a line break, never inside a word.</summary>
internal readonly record struct Run(string Text, bool Bold = false);

/// <summary>A stretch of one line in one weight.</summary>
/// <param name="X">Where it begins, in points from the line's left end.</param>
/// <param name="Text">Printable text.</param>
/// <param name="Face">Its size and weight.</param>
internal readonly record struct Piece(double X, string Text, Face Face);

/// <summary>One line of a paragraph; a line without pieces is a blank line.</summary>
internal sealed record Line(IReadOnlyList<Piece> Pieces);

/// <summary>
/// Breaks printable text into lines at blanks and line breaks; a word wider than the line is broken wherever it must.
/// Each line but the last ends with a blank, because readers of tagged PDF join the lines of a paragraph as they stand.
/// </summary>
internal sealed class LineBreaker
{
    private readonly List<Line> _lines = [];
    private readonly List<Piece> _pieces = [];
    private readonly StringBuilder _text = new();
    private readonly Typesetter _set;
    private readonly double _width;
    private Face _face;
    private double _pieceStart;
    private double _x;
    private bool _lastWasBlank;

    private LineBreaker(double width, Typesetter set) => (_width, _set) = (width, set);

    /// <summary>The lines of a paragraph; at least one. Several blank lines in a row become one.</summary>
    public static IReadOnlyList<Line> Break(IEnumerable<Run> runs, double size, double width, Typesetter set)
    {
        var breaker = new LineBreaker(width, set);
        foreach (var run in runs)
        {
            breaker.Add(run, new Face(size, run.Bold));
        }

        return breaker.Finish();
    }

    private void Add(Run run, Face face)
    {
        var paragraphs = run.Text.Split('\n');
        for (var p = 0; p < paragraphs.Length; p++)
        {
            if (p > 0)
            {
                EndLine();
            }

            foreach (var word in paragraphs[p].Split(' ', StringSplitOptions.RemoveEmptyEntries))
            {
                AddWord(word, face);
            }
        }
    }

    private void AddWord(string word, Face face)
    {
        var width = _set.Width(word, face);
        if (_x > 0 && _x + width > _width)
        {
            EndLine();
        }

        if (width <= _width)
        {
            Append(word + " ", face);
            return;
        }

        var elements = StringInfo.GetTextElementEnumerator(word);
        while (elements.MoveNext())
        {
            var element = elements.GetTextElement();
            if (_x > 0 && _x + _set.Width(element, face) > _width)
            {
                EndLine();
            }

            Append(element, face);
        }

        Append(" ", face);
    }

    private void Append(string text, Face face)
    {
        if (face != _face)
        {
            EndPiece();
            _face = face;
        }

        _text.Append(text);
        _x += _set.Width(text, face);
    }

    private void EndPiece()
    {
        if (_text.Length > 0)
        {
            _pieces.Add(new Piece(_pieceStart, _text.ToString(), _face));
            _text.Clear();
        }

        _pieceStart = _x;
    }

    private void EndLine()
    {
        EndPiece();
        var blank = _pieces.Count == 0;
        if (!blank || (!_lastWasBlank && _lines.Count > 0))
        {
            _lines.Add(new Line([.. _pieces]));
        }

        _lastWasBlank = blank;
        _pieces.Clear();
        _x = _pieceStart = 0;
    }

    private List<Line> Finish()
    {
        EndLine();
        while (_lines is [.., { Pieces.Count: 0 }])
        {
            _lines.RemoveAt(_lines.Count - 1);
        }

        if (_lines.Count == 0)
        {
            return [new Line([])];
        }

        var last = _lines[^1].Pieces;
        _lines[^1] = new Line([.. last.Take(last.Count - 1), last[^1] with { Text = last[^1].Text.TrimEnd(' ') }]);
        return _lines;
    }
}
