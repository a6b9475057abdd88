using MudBlazor;

namespace ShopDiag.Web.Look;

/// <summary>
/// The three looks: paper (the usual one), glare (pure black on white, larger) and dark. Each is a theme whose variables are
/// written under its own scope, so that all three stand in the page at once and <c>data-look</c> on the root element,
/// set by <c>shell.js</c>, chooses: no round trip, no flicker, and it works on static pages and without a connection.
/// The style sheets take every colour from these variables.
/// </summary>
public static class Looks
{
    private static readonly string[] Fonts = ["IBM Plex Sans", "system-ui", "sans-serif"];

    /// <summary>Near-white ground, near-black ink, one blue for what can be touched.</summary>
    public static MudTheme Paper { get; } = Make(":root", new PaletteLight
    {
        Background = "#FBFAF7", Surface = "#FFFFFF", TextPrimary = "#1A1A18", TextSecondary = "#4A4945", ActionDefault = "#1A1A18",
        Primary = "#00559E", PrimaryContrastText = "#FFFFFF", LinesDefault = "#A9A69E", LinesInputs = "#5C5A55", TableLines = "#A9A69E", Divider = "#A9A69E",
        Error = "#9A3B00", ErrorContrastText = "#FFFFFF", AppbarBackground = "#FBFAF7", AppbarText = "#1A1A18",
    });

    /// <summary>For sunlight: black on white, no grey that carries meaning.</summary>
    public static MudTheme Glare { get; } = Make(":root[data-look='glare']", new PaletteLight
    {
        Background = "#FFFFFF", Surface = "#FFFFFF", TextPrimary = "#000000", TextSecondary = "#000000", ActionDefault = "#000000",
        Primary = "#003A7A", PrimaryContrastText = "#FFFFFF", LinesDefault = "#000000", LinesInputs = "#000000", TableLines = "#000000", Divider = "#000000",
        Error = "#7A2A00", ErrorContrastText = "#FFFFFF", AppbarBackground = "#FFFFFF", AppbarText = "#000000",
    });

    /// <summary>For the evening.</summary>
    public static MudTheme Dark { get; } = Make(":root[data-look='dark']", new PaletteLight
    {
        Background = "#141412", Surface = "#1E1E1B", TextPrimary = "#F2F0EA", TextSecondary = "#C9C6BD", ActionDefault = "#F2F0EA",
        Primary = "#8CC6FF", PrimaryContrastText = "#0B1620", LinesDefault = "#6B6962", LinesInputs = "#B5B2A9", TableLines = "#6B6962", Divider = "#6B6962",
        Error = "#FFB38A", ErrorContrastText = "#1B0C00", AppbarBackground = "#141412", AppbarText = "#F2F0EA",
    });

    private static MudTheme Make(string scope, PaletteLight palette) => new()
    {
        PaletteLight = palette,
        PseudoCss = new PseudoCss { Scope = scope },
        LayoutProperties = new LayoutProperties { DefaultBorderRadius = "4px" },
        // Borders carry the structure; nothing floats.
        Shadows = new Shadow { Elevation = [.. Enumerable.Repeat("none", new Shadow().Elevation.Length)] },
        Typography = new Typography
        {
            Default = new DefaultTypography { FontFamily = Fonts, FontSize = "1rem", LineHeight = "1.45", LetterSpacing = "normal" },
            Button = new ButtonTypography { FontFamily = Fonts, FontSize = "1rem", FontWeight = "600", TextTransform = "none", LetterSpacing = "normal" },
        },
    };
}
