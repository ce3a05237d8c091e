using ScottPlot;
using SkiaSharp;

namespace DecayAtlas.Figures;

/// <summary>The embedded typeface, for the plotting library; no font of the machine is ever used.</summary>
internal sealed class Typeface : IFontResolver
{
    public const string Name = "Inter";

    private static readonly Lock Installing = new();
    private static bool _isInstalled;

    private Typeface()
    {
    }

    /// <summary>Tells the plotting library, once.</summary>
    public static void Install()
    {
        lock (Installing)
        {
            if (_isInstalled)
                return;
            Fonts.FontResolvers.Insert(0, new Typeface());
            Fonts.Default = Name;
            _isInstalled = true;
        }
    }

    public SKTypeface? CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing spacing) =>
        CreateTypeface(fontName, weight >= FontWeight.SemiBold, false);

    // the library disposes what it is given, so that each caller has its own
    public SKTypeface? CreateTypeface(string fontName, bool bold, bool italic) => Lettering.Load(bold ? "Inter-SemiBold.otf" : "Inter-Regular.otf");
}
