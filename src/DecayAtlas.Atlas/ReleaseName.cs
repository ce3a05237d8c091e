using System.Globalization;

namespace DecayAtlas.Atlas;

/// <summary>
/// The name of a release's folder: a running number, which only orders the releases of one atlas, and the id, which stands for the
/// content. Nothing inside a release knows the number, so that the same inputs make the same bytes whatever came before.
/// </summary>
/// <param name="Number">From 1, in the order in which they were made.</param>
/// <param name="Id">The first twelve hexadecimal digits of the digest of content and settings.</param>
public sealed record ReleaseName(int Number, string Id)
{
    public override string ToString() => string.Create(InvariantCulture, $"{Number:0000}-{Id}");

    /// <summary>Reads a folder name; <see langword="null"/> where it is none of a release.</summary>
    public static ReleaseName? Parse(string folder)
    {
        int dash = folder.IndexOf('-', StringComparison.Ordinal);
        return dash > 0 && int.TryParse(folder.AsSpan(0, dash), NumberStyles.None, InvariantCulture, out int number)
            ? new ReleaseName(number, folder[(dash + 1)..])
            : null;
    }
}
