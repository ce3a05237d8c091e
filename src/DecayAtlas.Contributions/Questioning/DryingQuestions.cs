using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>Finds out how the litter was dried before each of its two weighings: by the name of each column of masses, columns of their
/// own, lines beside the table, the campaign, else asked.</summary>
internal sealed class DryingQuestions(AskedTable table)
{
    private const string First = "drying_initial", Last = "drying";

    private static readonly string[] Dryings = ["oven", "air", "freeze", "none"];

    // that mean a weighing in the name of a column, and anything in a sentence
    private static readonly string[] Little = ["from", "in", "out", "von", "aus", "ein", "desde", "hasta", "de", "en"];

    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        JsonObject bags = table.Draft.Bags;
        Columns(bags);
        ByNames();
        AirDry(bags);
        Undried(bags);
        foreach ((string field, string id) in new[] { (First, "drying-initial"), (Last, "drying") })
        {
            if (bags.ContainsKey(field) || table.Roles.All(role => table.Draft.BagsOf(role).ContainsKey(field)))
                continue;
            string? answer = _ask.Choose(Interview.Meaning, id, DryingChoices(), null, []);
            if (answer is not null and not "unknown")
                bags[field] = MappingDraft.Value(answer);
        }
    }

    private Choice[] DryingChoices() =>
        [.. Dryings.Select(drying => _ask.Option(drying, "drying-" + drying)), _ask.Option("unknown", "unknown")];

    // a column of one weighing, or of one that does not say of which
    private void Columns(JsonObject bags)
    {
        if (table.Of(ColumnChoice.DryingInitial) is { IsNumbers: false } first)
            bags[First] = Source(first);
        if (table.Of(ColumnChoice.DryingFinal) is { IsNumbers: false } last)
            bags[Last] = Source(last);
        if (table.Of(ColumnChoice.Drying) is not { IsNumbers: false } column)
            return;
        string? answer = _ask.Choose(Interview.Meaning, "drying-column",
            [_ask.Option("both", "drying-both"), _ask.Option("first", "drying-first"), _ask.Option("last", "drying-last")], null,
            column.Seen(), column.Name);
        if (answer is "both" or "first")
            bags[First] = Source(column);
        if (answer is "both" or "last")
            bags[Last] = Source(column);
    }

    private JsonObject Source(AskedColumn column)
    {
        List<(string, string)> words = [];
        foreach (string text in column.Distinct)
        {
            string? drying = StateWords.IsNothing(text) ? "unknown" : DryingWords.Of(text)
                ?? _ask.Choose(Interview.Meaning, "drying-word:" + text, DryingChoices(), null, column.Seen(i => column.TextAt(i) == text),
                    text, column.Name);
            words.Add((text, drying is null or "unknown" ? "" : drying));
        }
        JsonObject source = MappingDraft.Column(column);
        source["words"] = MappingDraft.Words(words);
        return source;
    }

    // what a column of masses says of its own drying goes before what the campaign says of all
    private void ByNames()
    {
        foreach (LitterRole? role in table.Roles)
        {
            foreach ((string field, AskedColumn? column) in new[]
            {
                (First, table.Of(ColumnChoice.Initial, role)),
                (Last, table.LastOf(role)),
            })
            {
                if (column is null || DryingWords.In($"{column.Name} {column.Header.Unit}") is not { } drying)
                    continue;
                table.Draft.BagsOf(role)[field] = MappingDraft.Value(drying);
                _ask.Tell("drying-by-name", column.Filled, [], column.Name, _ask.Words["ask.choice.drying-" + drying]);
            }
        }
    }

    // a line that says air-dry, where the campaign says otherwise
    private void AirDry(JsonObject bags)
    {
        TidyCell[] lines = [.. table.Lines.Where(cell => DryingWords.In(cell.Value.Text) == "air")];
        if (lines.Length == 0)
            return;
        string? answer = _ask.Choose(Interview.Meaning, "drying-said",
            [_ask.Option("both", "air-both"), _ask.Option("first", "air-first"), _ask.Option("last", "air-last"),
                _ask.Option("no", "air-no")], null,
            [.. lines.Select(cell => AskedColumn.Shown(cell, null))]);
        if (answer is "both" or "first")
            bags[First] = MappingDraft.Value("air");
        if (answer is "both" or "last")
            bags[Last] = MappingDraft.Value("air");
    }

    // a line that says not dried, or fresh, goes before the campaign, of the weighing that the sender names
    private void Undried(JsonObject bags)
    {
        (TidyCell Cell, string Said)[] lines = [.. table.AllBeside
            .Where(cell => !CellRemarks.IsOfStar(table, cell.Value.Text))
            .Select(cell => (cell, Said: DryingWords.UndriedIn(cell.Value.Text)!)).Where(line => line.Said is not null)];
        if (lines.Length == 0)
            return;
        HeaderSense[] senses = [.. lines.Select(line => HeaderWords.Read(line.Said, null) is var said
            && said.HasAny(Concept.First, Concept.Last, Concept.Burying, Concept.Retrieving) ? said
            : HeaderWords.Read(string.Join(' ', line.Cell.Value.Text.Split(' ').Where(word => !Little.Contains(Identifier.Folded(word)))),
                null))];
        bool isFirst = senses.Any(sense => sense.HasAny(Concept.First, Concept.Burying)),
            isLast = senses.Any(sense => sense.HasAny(Concept.Last, Concept.Retrieving));
        string? answer = _ask.Choose(Interview.Meaning, "undried-said",
            [_ask.Option("last", "wet-last"), _ask.Option("first", "wet-first"), _ask.Option("both", "wet-both"),
                _ask.Option("no", "wet-no")], isFirst == isLast ? null : isFirst ? "first" : "last",
            [.. lines.Take(6).Select(line => AskedColumn.Shown(line.Cell, null))],
            ReceivedText.OneLine(ReceivedText.Masked(lines[0].Cell.Value.Text.Trim())));
        foreach (string field in new[] { First, Last })
        {
            if (answer != "both" && answer != (field == First ? "first" : "last"))
                continue;
            bags[field] = MappingDraft.Value("none");
            foreach (LitterRole? role in table.Roles.Where(role => role is not null))
                table.Draft.BagsOf(role).Remove(field);
        }
    }
}
