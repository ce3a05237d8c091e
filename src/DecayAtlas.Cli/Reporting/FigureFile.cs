using System.Text;

namespace DecayAtlas.Cli.Reporting;

/// <summary>A figure as a file; its ending says how.</summary>
internal static class FigureFile
{
    /// <summary>svg or png; <see langword="null"/> for another ending.</summary>
    public static string? FormatOf(string path) => Path.GetExtension(path).ToUpperInvariant() switch
    {
        ".SVG" => "svg",
        ".PNG" => "png",
        _ => null,
    };

    /// <summary>Writes it whole or not at all.</summary>
    public static void Save(string path, Figure figure) => DurableFile.Guard(Path.GetFullPath(path), () =>
    {
        byte[] bytes = FormatOf(path) == "svg" ? Encoding.UTF8.GetBytes(figure.Svg()) : figure.Png();
        DurableFile.WriteLazily(Path.GetFullPath(path), stream => stream.Write(bytes));
    });
}
