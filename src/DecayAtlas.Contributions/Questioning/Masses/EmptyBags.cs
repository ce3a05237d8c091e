using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>What the empty bag of a row weighs, to be taken off a mass with it: its own where the sheet says it, else that of its
/// lot.</summary>
internal sealed class EmptyBags(AskedTable table)
{
    private readonly Dictionary<AskedColumn, NumberForm> _forms = [];

    /// <summary>The column of the bag's own empty mass that belongs to a mass; null where there is none, or where it only says the lot's
    /// again.</summary>
    public AskedColumn? OwnOf(WeighedMass mass)
    {
        Concept when = mass.IsFirst ? Concept.First : Concept.Last;
        AskedColumn[] beside = [.. table.Columns.Where(column => column.IsNumbers && column.Sense.Has(Concept.Tare)
            && column.Sense.Has(when) && (mass.Role is null || table.RoleOf(column) == mass.Role))];
        AskedColumn? own = beside is [AskedColumn only] ? only : table.Of(ColumnChoice.Tare, mass.Role);
        if (own is not { IsNumbers: true })
            return null;
        bool isOfLot = Enumerable.Range(0, table.Rows.Count).All(row => Grams(own, row) is not { } grams
            || (LotOfRow(row, mass.Role) is { } lot && Number(lot, "tare_g") is { } tare && Math.Abs(grams - tare) < 1e-9));
        return isOfLot ? null : own;
    }

    /// <summary>Where the mapping finds the empty bag of a row (g): its own, and where that is empty, its lot's.</summary>
    public JsonObject OwnSource(AskedColumn own, LitterRole? role)
    {
        JsonObject source = MappingDraft.Column(own);
        FormOf(own).WriteInto(source, own);
        if (own.Sense.Unit != "g" && Units.InGrams(own.Sense.Unit) is not null)
            source["unit"] = own.Sense.Unit;
        MassSource.AddWords(source, [.. own.Distinct.Where(StateWords.IsNoValue).Select(text => (text, ""))]);
        if (IsAnyMissing(own) && OfLots(role, "tare_g") is { } ofLots)
            source["or"] = new JsonArray(ofLots);
        return source;
    }

    public bool IsAnyMissing(AskedColumn own) => Enumerable.Range(0, table.Rows.Count).Any(row => Grams(own, row) is null);

    /// <summary>A number of the lot of each row, by what names the lot; null where a lot does not have it.</summary>
    public JsonObject? OfLots(LitterRole? role, string field) => OfLots(role, lot => Number(lot, field));

    /// <summary>The standard uncertainty of the empty bag where that of its lot is taken off: that of single bags, and that of their
    /// mean.</summary>
    public JsonObject? UncertaintyOfLots(LitterRole? role) => OfLots(role, lot => UncertaintyOf(lot));

    private static double UncertaintyOf(JsonObject lot) => Math.Sqrt(Square(Number(lot, "tare_sd_g")
        ?? MeasurementAssumptions.Default.TareSdGrams) + Square(MeasurementAssumptions.Default.TareMeanSdGrams));

    /// <summary>The standard uncertainty of one reading of the balance, d/√12 (JCGM 100:2008, F.2.2.1).</summary>
    public double UncertaintyOfReading() =>
        (table.Campaign?.Bags.GetValueOrDefault("balance_resolution_g") is { } stated
            && double.TryParse(stated, NumberStyles.Float, CultureInfo.InvariantCulture, out double step)
                ? step : MeasurementAssumptions.Default.BalanceResolutionGrams) / Math.Sqrt(12);

    /// <summary>The largest of the numbers that a source can give.</summary>
    public static double Largest(JsonObject source) => (source["words"] is JsonObject words ? words.Select(word => (string)word.Value!)
        : [(string)source["value"]!]).Max(text => double.Parse(text, CultureInfo.InvariantCulture));

    private JsonObject? OfLots(LitterRole? role, Func<JsonObject, double?> number)
    {
        if (table.Draft.BagsOf(role)["lot_id"] is not JsonObject ids)
            return null;
        if ((string?)ids["value"] is { } fixedId)
            return LotNamed(fixedId) is { } only && number(only) is { } one ? MappingDraft.Value(MassSource.Text(one)) : null;
        if (table.Columns.FirstOrDefault(column => column.Name == (string?)ids["column"]) is not { } named)
            return null;
        List<(string, string)> words = [];
        foreach (string text in named.Distinct)
        {
            if (LotNamed(IdOf(ids, text)) is not { } lot)
                continue;
            if (number(lot) is not { } its)
                return null;
            words.Add((text, MassSource.Text(its)));
        }
        JsonObject source = MappingDraft.Column(named);
        source["form"] = "listed";
        source["words"] = MappingDraft.Words(words);
        return words.Count > 0 ? source : null;
    }

    /// <summary>What the empty bag of one row weighs and how well that is known (g): its own, else that of its lot; null where neither is
    /// known.</summary>
    public (double Grams, double Uncertainty)? OfRow(WeighedMass mass, int row)
    {
        if (OwnOf(mass) is { } own && Grams(own, row) is { } weighed)
            return (weighed, UncertaintyOfReading());
        return LotOfRow(row, mass.Role) is { } lot && Number(lot, "tare_g") is { } tare ? (tare, UncertaintyOf(lot)) : null;
    }

    private JsonObject? LotOfRow(int row, LitterRole? role)
    {
        if (table.Draft.BagsOf(role)["lot_id"] is not JsonObject ids)
            return null;
        if ((string?)ids["value"] is { } fixedId)
            return LotNamed(fixedId);
        return table.Columns.FirstOrDefault(column => column.Name == (string?)ids["column"]) is { } named
            ? LotNamed(IdOf(ids, named.TextAt(row))) : null;
    }

    private static string IdOf(JsonObject ids, string text) => (string?)(ids["words"] as JsonObject)?[text]
        ?? ((string?)ids["form"] == "id" ? Identifier.Of(text) : text);

    private JsonObject? LotNamed(string id) => table.Draft.Lots.OfType<JsonObject>().FirstOrDefault(lot => (string?)lot["lot_id"] == id);

    private static double? Number(JsonObject lot, string field) => (string?)lot[field] is { } text
        && double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) ? number : null;

    /// <summary>What the empty bag of a row weighs by a column of such; null where that says nothing.</summary>
    public double? Grams(AskedColumn column, int row) => MassReading.GramsIn(column, row, FormOf(column), column.Sense.Unit ?? "g");

    private NumberForm FormOf(AskedColumn column) =>
        _forms.TryGetValue(column, out NumberForm? form) ? form : _forms[column] = NumberForm.Of(column)[0];

    private static double Square(double x) => x * x;
}
