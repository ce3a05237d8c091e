using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Sides;

/// <summary>Writes into a mapping how a column of coordinates is read.</summary>
internal static class DegreesSource
{
    // to a hundredth of a millimetre, which no one writes
    public static string Plain(double degrees) => Math.Round(degrees, 8).ToString("0.########", CultureInfo.InvariantCulture);

    /// <param name="degrees">Of each row.</param>
    /// <param name="site">Tells rows apart that write the same number and lie on different sides of the Earth; null where there is
    /// none.</param>
    public static JsonObject Of(AskedColumn column, double?[] degrees, bool isBoth, AskedColumn? site)
    {
        JsonObject source = MappingDraft.Column(column);
        bool isPlain = !isBoth && Enumerable.Range(0, degrees.Length).All(i => column.TextAt(i).Length == 0
            || (degrees[i] is { } d && double.TryParse(column.TextAt(i).Replace(',', '.'), NumberStyles.Float,
                CultureInfo.InvariantCulture, out double asIs)
                && Math.Abs(asIs - d) < 1e-9));
        if (isPlain)
        {
            (column.Distinct.Any(text => text.Contains(',', StringComparison.Ordinal))
                ? new NumberForm(column.Distinct.Any(text => text.Contains('.', StringComparison.Ordinal)) ? '\0' : ',', '\0', false)
                : new NumberForm('.', '\0', false)).WriteInto(source, column);
            return source;
        }
        (string Text, string Degrees)[] words = Words(column, degrees);
        if (words.Select(word => word.Text).Distinct().Count() < words.Length && site is not null)
        {
            source = MappingDraft.Column(site);
            words = Words(site, degrees);
        }
        source["words"] = MappingDraft.Words(words.DistinctBy(word => word.Text));
        return source;
    }

    private static (string Text, string Degrees)[] Words(AskedColumn column, double?[] degrees) =>
        [.. Enumerable.Range(0, degrees.Length).Where(i => column.TextAt(i).Length > 0 && degrees[i] is not null)
            .Select(i => (column.TextAt(i), Plain(degrees[i]!.Value))).Distinct()];
}
