using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>Tables that have no weighings, only k and S or means: read as results where they say enough.</summary>
internal sealed class ResultQuestions(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    /// <summary>The key of the sentence that says why it cannot be read; null where it can, or where something is asked.</summary>
    public string? Make()
    {
        if (MeanColumns.Are(table) || ShareColumns.AreAlone(table))
            return Means();
        new FaultRemarks(table, null).OfResults();
        new CopiedRows(table, areRates: true).Make();
        if (table.Of(ColumnChoice.Rate) is not { } rate || table.Of(ColumnChoice.Stabilisation) is not { } stabilisation)
            return "means-only";
        _ask.Tell("results-only", table.Rows.Count, []);
        table.Draft.OneRowIs = "result";
        JsonObject results = table.Draft.Results;
        Numbered();
        results["evidence"] = MappingDraft.Value("reported");
        RateReading rates = new(table, rate);
        StabilisationReading shares = new(table);
        results["k_per_day"] = rates.Source();
        results["s"] = shares.Source(stabilisation);
        Errors(rates, shares);
        if (table.Of(ColumnChoice.Count) is { } count)
        {
            results["burials"] = Number(count);
        }
        else
        {
            results["burials"] = Entered("burials", QuestionKind.Number, text =>
                int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int n) && n > 0);
        }

        results["method"] = MappingDraft.Value(_ask.Choose(Interview.Meaning, "method",
            [_ask.Option("two-litter", "method-two-litter"), _ask.Option("other", "method-other")],
            null, []) ?? "other");
        DaysAndPlaces();
        return table.IsHopeless;
    }

    private void Errors(RateReading rates, StabilisationReading shares)
    {
        AskedColumn? ofRate = ErrorOf(Concept.Rate), ofStabilisation = ErrorOf(Concept.Stabilisation);
        if ((ofRate ?? ofStabilisation) is not { } error)
            return;
        string? kind = error.Sense.Has(Concept.StandardError) ? "se" : error.Sense.Has(Concept.Sd) ? "sd" : _ask.Choose(Interview.Meaning,
            "spread:" + error.Name, [_ask.Option("sd", "spread-sd"), _ask.Option("se", "spread-se")], null, error.Seen(), error.Name);
        table.Draft.Results["errors_are"] = MappingDraft.Value(kind ?? "sd");
        if (ofRate is not null)
            table.Draft.Results["k_error_per_day"] = rates.ErrorSource(ofRate);
        if (ofStabilisation is not null)
            table.Draft.Results["s_error"] = shares.ErrorSource(ofStabilisation);
    }

    private AskedColumn? ErrorOf(Concept concept) => table.Columns.Where(column => column.IsNumbers && column.Sense.Has(concept)
        && column.Sense.HasAny(Concept.Sd, Concept.Spread)).ToArray() is [AskedColumn only] ? only : null;

    private string? Means()
    {
        _ask.Tell(MeanColumns.Are(table) ? "results-means" : "results-shares", table.Rows.Count, []);
        table.Draft.OneRowIs = "result";
        JsonObject results = table.Draft.Results;
        Numbered();
        results["evidence"] = MappingDraft.Value("summarised");
        if (IsDried("drying_initial") && IsDried("drying"))
            results["fraction_basis"] = MappingDraft.Value("dry");
        new FaultRemarks(table, null).OfResults();
        if (new MeanQuestions(table).Make() is { } why)
            return why;
        DaysAndPlaces();
        return table.IsHopeless;
    }

    private bool IsDried(string field) => table.Campaign?.Bags.GetValueOrDefault(field) is "oven" or "freeze";

    private void Numbered()
    {
        table.Draft.Results["result_id"] = new JsonObject { ["pattern"] = "result-{result}", ["form"] = "id" };
        table.Draft.File["count"] = new JsonArray(new JsonObject { ["name"] = "result", ["within"] = new JsonArray() });
    }

    private void DaysAndPlaces()
    {
        JsonObject results = table.Draft.Results;
        new DateQuestions(table).Make();
        foreach (string field in new[] { "buried_on", "retrieved_on" })
        {
            if (table.Draft.Bags[field] is { } source)
                results[field] = source.DeepClone();
        }
        new PackageQuestions(table).Treatments();
        if (table.Draft.Bags["treatment"] is { } treatment)
            results["treatment"] = treatment.DeepClone();
        if (table.Of(ColumnChoice.Days) is { } days)
            results["exposure_days"] = Days(days);
        new PlaceQuestions(table).Make();
    }

    private JsonObject Days(AskedColumn column)
    {
        JsonObject source = Number(column);
        Durations durations = new(table, column);
        for (int row = 0; row < column.Cells.Count && !durations.AreDays; row++)
        {
            if (column.TextAt(row).Length > 0)
            {
                double? days = durations.DaysAt(row, table.BuriedOn.TryGetValue(row, out DateOnly buried) ? buried : null);
                MappingDraft.SetRow(source, table.RowNames[row], column.TextAt(row),
                    days?.ToString("0.##", CultureInfo.InvariantCulture) ?? "");
            }
        }
        return source;
    }

    private static JsonObject Number(AskedColumn column)
    {
        JsonObject source = MappingDraft.Column(column);
        NumberForm.Of(column)[0].WriteInto(source, column);
        return source;
    }

    private JsonObject Entered(string id, QuestionKind kind, Func<string, bool> canBe) =>
        MappingDraft.Value(_ask.Enter(Interview.Meaning, id, kind, canBe, null, []) ?? "");
}
