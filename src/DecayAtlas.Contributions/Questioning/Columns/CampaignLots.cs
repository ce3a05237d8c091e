using System.Globalization;

namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>The lots that the campaign file describes, found by the words of a sheet.</summary>
internal static class CampaignLots
{
    public static IReadOnlyDictionary<string, string>? Find(string lot, AskedTable table) => table.Campaign?.Lots.FirstOrDefault(own =>
        string.Equals(own["lot_id"], lot.Trim(), StringComparison.OrdinalIgnoreCase)
        || string.Equals(Identifier.Of(own["lot_id"]), Identifier.Of(lot), StringComparison.OrdinalIgnoreCase));

    /// <summary>The litter of the lots that a name of a column speaks of: Alder-24 before, or Alder before; null where it speaks of none or
    /// of both litters.</summary>
    public static LitterRole? RoleIn(string name, AskedTable table)
    {
        if (table.Campaign?.Words.FirstOrDefault(word => word.Value is "fast" or "slow" && Names(name, word.Key)).Value is { } said)
            return said == "fast" ? LitterRole.Fast : LitterRole.Slow;
        IReadOnlyDictionary<string, string>[] named = [.. (table.Campaign?.Lots ?? []).Where(lot => Names(name, lot["lot_id"]))];
        // the word of an id alone, where it is no word of the trade
        if (named.Length == 0)
        {
            named = [.. (table.Campaign?.Lots ?? []).Where(lot => WordOf(lot["lot_id"]) is var word && Names(name, word)
                && HeaderWords.Read(word, null) is { Concepts.Count: 0, Role: null, Basis: null })];
        }
        return named.Select(lot => lot["role"]).Distinct().ToArray() is [string only]
            ? only == "fast" ? LitterRole.Fast : LitterRole.Slow : null;
    }

    /// <summary>Whether a name speaks of a lot by its id, as a word or as several; a letter or two may be anything.</summary>
    public static bool Names(string name, string id) => Spaced(id) is { Length: > 2 } words
        && $" {Spaced(name)} ".Contains($" {words} ", StringComparison.Ordinal);

    private static string Spaced(string text) => string.Join(' ', string.Concat(Identifier.Folded(text).Select(c =>
        char.IsLetterOrDigit(c) ? c : ' ')).Split(' ', StringSplitOptions.RemoveEmptyEntries));

    private static string WordOf(string id) => Spaced(id).Split(' ').FirstOrDefault(word => word.All(char.IsLetter)) ?? "";

    public static double? Number(IReadOnlyDictionary<string, string> lot, string field) =>
        lot.TryGetValue(field, out string? text) && double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture,
            out double number) ? number : null;

    /// <summary>Whether a first mass lies where those of the other way of weighing should, with the bag or without it; null where the lot
    /// does not say what its bags weigh.</summary>
    public static bool? FitsOther(IReadOnlyDictionary<string, string> lot, double grams, string basis)
    {
        if (Number(lot, "litter_mass_nominal_g") is not { } nominal || Number(lot, "tare_g") is not { } tare)
            return null;
        double toGross = Math.Abs(grams - nominal - tare), toLitter = Math.Abs(grams - nominal);
        return (basis == "gross" ? toLitter < toGross / 2 : toGross < toLitter / 2) && Math.Min(toLitter, toGross) < tare / 2;
    }

    /// <summary>How far a first mass lies off what the lot's bags weigh by one way of weighing and by the other (g); null where the lot
    /// does not say that, or not how far its bags may be off.</summary>
    public static (double Stated, double Other, double Tolerance)? OffBoth(IReadOnlyDictionary<string, string> lot, double grams,
        string basis)
    {
        if (Number(lot, "litter_mass_nominal_g") is not { } nominal || Number(lot, "tare_g") is not { } tare
            || Number(lot, "litter_mass_tolerance_g") is not { } tolerance)
        {
            return null;
        }
        (double gross, double litter) = (grams - nominal - tare, grams - nominal);
        return basis == "gross" ? (gross, litter, tolerance) : (litter, gross, tolerance);
    }

    /// <summary>As <see cref="FitsOther"/>, of a single bag: where the lot says how far its bags may be off, one that is within that
    /// fits.</summary>
    public static bool? FitsOtherOnly(IReadOnlyDictionary<string, string> lot, double grams, string basis) =>
        OffBoth(lot, grams, basis) is { } off ? Math.Abs(off.Stated) > off.Tolerance && Math.Abs(off.Other) <= off.Tolerance
            : FitsOther(lot, grams, basis);

    public static IReadOnlyDictionary<string, string>? OfRow(AskedTable table, int row, LitterRole role) =>
        table.Of(ColumnChoice.Lot, table.IsBurialRow ? role : null) is { } column && Find(column.TextAt(row), table) is { } lot ? lot
        : table.LotOf.TryGetValue(role, out string? id) ? Find(id, table) : null;
}
