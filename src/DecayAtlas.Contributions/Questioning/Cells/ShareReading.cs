using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Cells;

/// <summary>A loss, a change or what is left, in grams or as a share, in place of the last mass.</summary>
internal sealed class ShareReading(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    public JsonObject Source(AskedColumn column, bool isLoss)
    {
        JsonObject source = MappingDraft.Column(column);
        bool isChange = isLoss && column.Sense.Has(Concept.Change)
            && column.Distinct.Any(text => text.StartsWith('-') || text.StartsWith('\u2212'));
        source["form"] = isChange ? "change" : isLoss ? "loss" : "remaining";
        IReadOnlyList<NumberForm> forms = NumberForm.Of(column);
        NumberForm form = forms[0];
        double[] numbers = [.. Enumerable.Range(0, column.Cells.Count).Select(i => form.Read(column, i)).OfType<double>()];
        bool hasSign = column.Distinct.Any(text => WrittenNumber.Of(text)?.Unit == "percent");
        string? unit = column.Sense.Unit == "percent" || Units.InGrams(column.Sense.Unit) is not null ? column.Sense.Unit
            : hasSign ? "percent" : null;
        bool isUndecided = unit is null || (unit == "percent" && !hasSign && numbers.Length > 0 && numbers.All(x => x <= 1.1));
        if (isUndecided && numbers.Length > 0)
        {
            double most = numbers.Max(Math.Abs);
            string[] units = most > MassReading.Most ? ["percent"] : most <= 1.1 ? isLoss ? ["fraction", "g"] : ["fraction", "percent"]
                : ["g", "percent"];
            unit = units.Length == 1 ? units[0] : _ask.Choose(Interview.Values, "share-unit:" + column.Name,
                [.. units.Select(u => _ask.Option(u, "unit-" + u))], null, column.Seen(), column.Name) ?? units[0];
        }
        form.WriteInto(source, column);
        source["unit"] = unit ?? "percent";
        MassSource.AddWords(source, new StateQuestions(table).WordsOf(column,
            text => MassReading.CanBeNumber(text, form) || SeveralNumbers.Are(text), isFirst: false));
        _ = new SeveralNumbers(table).Make(column, source, form, Units.InGrams(unit) ?? (unit == "fraction" ? 1 : 0.01),
            Units.InGrams(unit) is null ? "" : "g");
        if (unit is "percent" or "fraction" && IsGrossStated())
        {
            string? of = column.Sense.Has(Concept.OfLitter) ? "litter" : _ask.Choose(Interview.Meaning, "share-of",
                [_ask.Option("litter", "share-of-litter"), _ask.Option("all", "share-of-all")], null, column.Seen(), column.Name);
            if (of == "all")
                source["share_of"] = "all";
        }
        _ask.Tell(isChange ? "change" : isLoss ? "loss" : "remaining", column.Filled, column.Seen(), column.Name);
        return source;
    }

    private bool IsGrossStated() => table.Campaign is null || table.Campaign.Bags.GetValueOrDefault("mass_basis") == "gross"
        || table.Chosen.Any(entry => entry.Key.Field == ColumnChoice.WithBag
            || (entry.Key.Field == ColumnChoice.Initial && entry.Value.Sense.Basis == "gross"));
}
