using System.Globalization;

namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>The lots that the campaign file describes, found by the words of a sheet.</summary>
internal static class CampaignLots
{
    public static IReadOnlyDictionary<string, string>? Find(string lot, AskedTable table) => table.Campaign?.Lots.FirstOrDefault(own =>
        string.Equals(own["lot_id"], lot.Trim(), StringComparison.OrdinalIgnoreCase)
        || string.Equals(Identifier.Of(own["lot_id"]), Identifier.Of(lot), StringComparison.OrdinalIgnoreCase));

    public static double? Number(IReadOnlyDictionary<string, string> lot, string field) =>
        lot.TryGetValue(field, out string? text) && double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture,
            out double number) ? number : null;

    public static IReadOnlyDictionary<string, string>? OfRow(AskedTable table, int row, LitterRole role) =>
        table.Of(ColumnChoice.Lot, table.IsBurialRow ? role : null) is { } column && Find(column.TextAt(row), table) is { } lot ? lot
        : table.LotOf.TryGetValue(role, out string? id) ? Find(id, table) : null;
}
