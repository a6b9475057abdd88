namespace ShopDiag.Comebacks.Charts;

/// <summary>The room a chart is laid out in.</summary>
public sealed record ChartSetting
{
    /// <summary>Makes a setting.</summary>
    /// <param name="width">Width, at least 20 times the size of text.</param>
    /// <param name="height">Height, at least 18 times the size of text.</param>
    /// <param name="textSize">Size of text, above 0, in the same unit.</param>
    /// <param name="textWidth">How wide a text is at a size; null for <see cref="RoughTextWidth"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is too little room.</exception>
    public ChartSetting(double width, double height, double textSize, Func<string, double, double>? textWidth = null)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(textSize);
        Width = width >= 20 * textSize && double.IsFinite(width) ? width : throw new ArgumentOutOfRangeException(nameof(width), width, "A chart is at least 20 letters wide.");
        Height = height >= 18 * textSize && double.IsFinite(height) ? height : throw new ArgumentOutOfRangeException(nameof(height), height, "A chart is at least 18 letters high.");
        TextSize = textSize;
        TextWidth = textWidth ?? RoughTextWidth;
    }

    /// <summary>Width.</summary>
    public double Width { get; }

    /// <summary>Height.</summary>
    public double Height { get; }

    /// <summary>Size of text.</summary>
    public double TextSize { get; }

    /// <summary>How wide a text is at a size.</summary>
    public Func<string, double, double> TextWidth { get; }

    /// <summary>
    /// A width that no common sans-serif face exceeds by much, for where letters cannot be measured: 0.6 of the size for small letters, figures and signs, 0.8 for
    /// capitals, 1 for wide letters and those of other scripts.
    /// </summary>
    public static double RoughTextWidth(string text, double size)
    {
        ArgumentNullException.ThrowIfNull(text);
        return size * text.Sum(c => c is 'W' or 'M' or 'm' or 'w' or '@' or > '\u036f' and not (>= '\u2010' and <= '\u2027') ? 1 : char.IsUpper(c) ? 0.8 : 0.6);
    }

    /// <summary>Distance between lines of text.</summary>
    internal double LineHeight => TextSize * 1.4;

    /// <summary>Room for the labels and the title of a level axis.</summary>
    internal double AxisHeight => LineHeight * 2.4;

    /// <summary>Distance between things that stand beside each other.</summary>
    internal double Gap => TextSize * 0.6;

    /// <summary>How wide a text is.</summary>
    internal double WidthOf(string text) => TextWidth(text, TextSize);

    /// <summary>The text, or as much of its beginning as fits, with an ellipsis; empty where not even that fits.</summary>
    internal string Cut(string text, double width)
    {
        // Room that was made for exactly this text may have lost a trifle in the adding up.
        if (WidthOf(text) <= width + (TextSize * 1e-6))
        {
            return text;
        }

        for (var length = text.Length - 1; length > 0; length--)
        {
            // Never between the halves of one sign.
            var cut = char.IsHighSurrogate(text[length - 1]) ? "" : text[..length].TrimEnd() + "…";
            if (cut.Length > 0 && WidthOf(cut) <= width)
            {
                return cut;
            }
        }

        return "";
    }
}
