using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>Takes days and places from lines beside the table where no column holds them; what they say is shown to be confirmed.</summary>
internal sealed class LineQuestions(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        (TidyCell Cell, string Text, LineFacts Facts)[] lines = [.. table.Lines.SelectMany(cell => Parts(cell.Value.Text)
            .Select(part => (cell, part.Trim(), LineFacts.Of(part)))).Where(line =>
                line.Item3 is not { Buried: null, Retrieved: null, Place: null })];
        bool needsDays = table.Of(ColumnChoice.Buried) is null && !table.Chosen.Keys.Any(key => key.Field == ColumnChoice.Buried);
        bool needsLast = !table.Chosen.Keys.Any(key => key.Field == ColumnChoice.Retrieved);
        bool needsPlace = table.Of(ColumnChoice.Position) is null && table.Of(ColumnChoice.Latitude) is null
            && table.Of(ColumnChoice.Northing) is null;
        AskedColumn[] titles = [.. table.Columns.Where(column => column.IsWords
            && (column == table.Of(ColumnChoice.Site) || !table.Chosen.ContainsValue(column))
            && column.Distinct.Any(text => LineFacts.Of(text) is not { Buried: null, Retrieved: null, Place: null }))];
        bool isRanged = RangedPlaces.FirstIn(table.Lines) is not null;
        if ((lines.Length + titles.Length == 0 && !isRanged) || !(needsDays || needsLast || needsPlace))
            return;
        AskedColumn? site = table.Of(ColumnChoice.Site);
        LineFacts[] facts = [.. Enumerable.Range(0, table.Rows.Count).Select(row => Of(row, site, lines, titles))];
        string?[] ranged = needsPlace ? Ranged() : [];
        for (int row = 0; row < ranged.Length; row++)
            facts[row] = facts[row] with { Place = ranged[row], Name = null };
        string[] said =
        [
            .. facts.Select((fact, row) => (Site: site?.TextAt(row), fact)).Distinct().Take(8).Select(entry => string.Join(", ", new[]
            {
                entry.Site, needsDays ? entry.fact.Buried : null, needsLast ? entry.fact.Retrieved : null, needsPlace ? entry.fact.Place
                    : null,
            }.OfType<string>())),
        ];
        if (!facts.Any(fact => (needsDays && fact.Buried is not null) || (needsLast && fact.Retrieved is not null)
            || (needsPlace && fact.Place is not null)))
        {
            return;
        }

        string? answer = _ask.Choose(Interview.Values, "lines", [_ask.Option("yes", "lines-yes"), _ask.Option("no", "lines-no")], "yes",
            [.. lines.Select(line => line.Cell).Concat(table.Lines.Where(cell => ranged.Length > 0
                && RangedPlaces.In(cell.Value.Text) is not null)).Distinct().Take(6).Select(cell => AskedColumn.Shown(cell, null)),
                .. titles.SelectMany(title => title.Seen())], string.Join("; ", said));
        if (answer == "no")
            return;
        if (needsDays)
            table.StatedDays[ColumnChoice.Buried] = [.. facts.Select(fact => Day(fact.Buried, isBurial: true))];
        if (needsLast)
            table.StatedDays[ColumnChoice.Retrieved] = [.. facts.Select(fact => Day(fact.Retrieved, isBurial: false))];
        if (needsPlace && ranged.Length > 0 && site is null)
            table.PlacedBy = NumberedBy(RangedPlaces.FirstIn(table.Lines)!);
        if (needsPlace && facts.All(fact => fact.Place is not null))
            table.StatedPlaces = [.. facts.Select(fact => (fact.Name, fact.Place!))];
    }

    // a semicolon parts what is said, unless it parts the two numbers of one position
    private static string[] Parts(string text) => text.Split('\n', ';') is { Length: > 1 } parts
        && (LineFacts.Of(text).Place is null || Array.Exists(parts, part => LineFacts.Of(part).Place is not null)) ? parts : [text];

    // positions that a line gives by ranges of holes or bags: each row's by its number; nothing where a row is in none of them
    private string?[] Ranged()
    {
        if (RangedPlaces.FirstIn(table.Lines) is not { } ranged || NumberedBy(ranged) is not { } numbered)
            return [];
        string?[] places = [.. Enumerable.Range(0, table.Rows.Count).Select(row =>
            int.TryParse(string.Concat(numbered.TextAt(row).Where(char.IsAsciiDigit)), NumberStyles.None, CultureInfo.InvariantCulture,
                out int number) ? ranged.Places.FirstOrDefault(place => place.Numbers.Contains(number)).Place : null)];
        return places.All(place => place is not null) ? places : [];
    }

    private AskedColumn? NumberedBy(RangedPlaces ranged) => ranged.Of switch
    {
        Concept.Burial => table.Of(ColumnChoice.Burial),
        Concept.Bag => table.Of(ColumnChoice.Bag) ?? table.Of(ColumnChoice.Number),
        Concept.Plot => table.Of(ColumnChoice.Plot),
        Concept.Replicate => table.Of(ColumnChoice.Replicate),
        _ => table.Of(ColumnChoice.Burial) ?? table.Of(ColumnChoice.Number) ?? table.Of(ColumnChoice.Bag),
    };

    // the lines of the sheet of a row, and of these only such as name its site where any names one
    private LineFacts Of(int row, AskedColumn? site, (TidyCell Cell, string Text, LineFacts Facts)[] lines, AskedColumn[] titles)
    {
        string? sheet = table.Rows[row][0].Place.Sheet;
        string own = site is null ? "" : Identifier.Folded(site.TextAt(row));
        string[] sites = site is null ? [] : [.. site.Distinct.Select(Identifier.Folded)];
        LineFacts facts = titles.Aggregate(new LineFacts(null, null, null, null), (known, title) =>
            Joined(known, LineFacts.Of(title.TextAt(row))));
        HashSet<string> unnamed = [];
        foreach ((TidyCell cell, string text, LineFacts said) in lines)
        {
            string folded = Identifier.Folded(text);
            if (cell.Place.Sheet != sheet || (sites.Any(name => folded.Contains(name, StringComparison.Ordinal))
                && !folded.Contains(own, StringComparison.Ordinal)))
            {
                continue;
            }

            facts = Joined(facts, said);
            if (said.Place is not null && !(own.Length > 0 && folded.Contains(own, StringComparison.Ordinal)))
                unnamed.Add(said.Place);
        }
        // two places of which none is said to be that of the row
        return unnamed.Count > 1 && facts.Place is { } place && unnamed.Contains(place) ? facts with { Place = null, Name = null } : facts;
    }

    private static LineFacts Joined(LineFacts known, LineFacts more) => new(known.Buried ?? more.Buried, known.Retrieved ?? more.Retrieved,
        known.Place ?? more.Place, known.Place is null ? more.Name : known.Name);

    private DateOnly? Day(string? text, bool isBurial)
    {
        if (text is null || MonthNames.Read(text) is not { } written)
            return null;
        DayReading reading = new(table.Columns[0], 0, isBurial, null, written);
        DateOnly? dayFirst = reading.Day(true, null, 2000), monthFirst = reading.Day(false, null, 2000);
        DayRange? window = isBurial ? table.Campaign?.Bury : table.Campaign?.DigUp;
        return window is not null && dayFirst != monthFirst && !(dayFirst >= window.From && dayFirst <= window.To)
            && monthFirst >= window.From && monthFirst <= window.To ? monthFirst : dayFirst ?? monthFirst;
    }

    /// <summary>A source that gives each row its value: one for all, or by site; null where rows of one site differ.</summary>
    public static JsonObject? Source(AskedTable table, IReadOnlyList<string?> values)
    {
        string[] all = [.. values.OfType<string>().Distinct()];
        if (all.Length == 1 && values.All(value => value is not null))
            return MappingDraft.Value(all[0]);
        if (all.Length == 0 || (table.Of(ColumnChoice.Site) ?? table.PlacedBy) is not { } site)
            return null;
        Dictionary<string, string> bySite = [];
        for (int i = 0; i < values.Count; i++)
        {
            if (values[i] is { } value && bySite.TryAdd(site.TextAt(i), value) is false && bySite[site.TextAt(i)] != value)
                return null;
        }
        JsonObject source = MappingDraft.Column(site);
        source["form"] = "listed";
        source["words"] = MappingDraft.Words(bySite.Select(entry => (entry.Key, entry.Value)));
        return source;
    }

    public static string? Shown(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
