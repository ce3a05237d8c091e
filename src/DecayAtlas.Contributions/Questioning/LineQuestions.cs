using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>Takes days and places from lines beside the table where no column holds them; what they say is shown to be confirmed.</summary>
internal sealed class LineQuestions(AskedTable table)
{
    /// <param name="Named">The sites that it names, folded.</param>
    private sealed record Line(TidyCell Cell, string Text, LineFacts Facts, string[] Named);

    private readonly Interview _ask = table.Ask;

    private readonly CellPlace[] _places = [.. Enumerable.Range(0, table.Rows.Count).Select(table.PlaceOf)];

    // over the lowest line above some rows: the last row of the table before
    private readonly Dictionary<(string File, string? Sheet, int Line), int> _endsBefore = [];

    public void Make()
    {
        string[] sites = table.Of(ColumnChoice.Site) is { } named ? [.. named.Distinct.Select(Identifier.Folded)] : [];
        Line[] lines =
        [
            .. table.Lines.SelectMany(cell => Parts(cell.Value.Text).Select(part => (cell, part: part.Trim(), facts: LineFacts.Of(part))))
                .Where(line => line.facts is not { Buried: null, Retrieved: null, Place: null })
                .Select(line => new Line(line.cell, line.part, line.facts, [.. sites.Where(name => Identifier.Folded(line.part)
                    .Contains(name, StringComparison.Ordinal))])),
        ];
        bool needsDays = table.Of(ColumnChoice.Buried) is null && !table.Chosen.Keys.Any(key => key.Field == ColumnChoice.Buried)
            && !table.StatedDays.ContainsKey(ColumnChoice.Buried);
        bool needsLast = !table.Chosen.Keys.Any(key => key.Field == ColumnChoice.Retrieved)
            && !table.StatedDays.ContainsKey(ColumnChoice.Retrieved);
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
            State(ColumnChoice.Buried, fact => fact.Buried);
        if (needsLast)
            State(ColumnChoice.Retrieved, fact => fact.Retrieved);
        if (needsPlace && ranged.Length > 0 && site is null)
            table.PlacedBy = NumberedBy(RangedPlaces.FirstIn(table.Lines)!);
        if (needsPlace && facts.All(fact => fact.Place is not null))
            table.StatedPlaces = [.. facts.Select(fact => (fact.Name, fact.Place!))];

        void State(string field, Func<LineFacts, string?> of)
        {
            if (!facts.Any(fact => of(fact) is not null))
                return;
            table.StatedDays[field] = AskedColumn.OfLines(ColumnChoice.NameOf(field, null, _ask.Words),
                [.. facts.Select((fact, row) => new TidyCell(SheetCell.OfText(of(fact) ?? ""), PlaceOf(of(fact), row), null))]);
        }

        CellPlace PlaceOf(string? written, int row) => lines.Where(line => written is not null
            && line.Cell.Place.Sheet == _places[row].Sheet && line.Text.Contains(written, StringComparison.Ordinal))
            .Select(line => (CellPlace?)line.Cell.Place).FirstOrDefault() ?? _places[row];
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

    // The lines of the sheet of a row, and of these only such as name its site where any names one. What is said of its site goes before
    // what stands over its own table, and that before what stands elsewhere on the sheet; where such lines differ, none says it.
    private LineFacts Of(int row, AskedColumn? site, Line[] lines, AskedColumn[] titles)
    {
        string own = site is null ? "" : Identifier.Folded(site.TextAt(row));
        CellPlace at = _places[row];
        Line[] ofSheet = [.. lines.Where(line => line.Cell.Place.Sheet == at.Sheet && line.Cell.Place.File == at.File
            && (line.Named.Length == 0 || line.Named.Contains(own)))];
        IEnumerable<LineFacts>[] sources =
        [
            titles.Select(title => LineFacts.Of(title.TextAt(row))),
            ofSheet.Where(line => line.Named.Length > 0).Select(line => line.Facts),
            Over(at, ofSheet).Select(line => line.Facts), ofSheet.Select(line => line.Facts),
        ];
        LineFacts? placed = One(fact => fact.Place);
        return new LineFacts(One(fact => fact.Buried)?.Buried, One(fact => fact.Retrieved)?.Retrieved, placed?.Place, placed?.Name);

        LineFacts? One(Func<LineFacts, string?> of)
        {
            LineFacts[]? saying = sources.Select(source => source.Where(fact => of(fact) is not null).ToArray())
                .FirstOrDefault(source => source.Length > 0);
            return saying is not null && saying.Select(of).Distinct().Count() == 1 ? saying[0] : null;
        }
    }

    // those that stand over the table of a row and under the table above it
    private IEnumerable<Line> Over(CellPlace at, Line[] lines)
    {
        Line[] above = [.. lines.Where(line => line.Cell.Place.Row < at.Row)];
        if (above.Length == 0)
            return [];
        int nearest = above.Max(line => line.Cell.Place.Row);
        if (!_endsBefore.TryGetValue((at.File, at.Sheet, nearest), out int before))
        {
            _endsBefore[(at.File, at.Sheet, nearest)] = before = _places.Where(place => place.File == at.File && place.Sheet == at.Sheet
                && place.Row < nearest).Select(place => place.Row).DefaultIfEmpty(0).Max();
        }
        return above.Where(line => line.Cell.Place.Row > before);
    }

    /// <summary>A source that gives each row its value: one for all, or by site; null where rows of one site differ.</summary>
    public static JsonObject? Source(AskedTable table, IReadOnlyList<string?> values)
    {
        string[] all = [.. values.OfType<string>().Distinct()];
        if (all.Length == 1 && values.All(value => value is not null))
            return MappingDraft.Value(all[0]);
        if (all.Length == 0)
            return null;
        Dictionary<string, string> bySite = [];
        AskedColumn? site = table.Of(ColumnChoice.Site) ?? table.PlacedBy;
        if (site is null || !Enumerable.Range(0, values.Count).All(row => values[row] is not { } value
            || bySite.TryAdd(site.TextAt(row), value) || bySite[site.TextAt(row)] == value))
        {
            return ByRow(table, values);
        }
        JsonObject source = MappingDraft.Column(site);
        source["form"] = "listed";
        source["words"] = MappingDraft.Words(bySite.Select(entry => (entry.Key, entry.Value)));
        return source;
    }

    // under the name of a column that every row has something in
    private static JsonObject? ByRow(AskedTable table, IReadOnlyList<string?> values)
    {
        if (table.Columns.FirstOrDefault(column => column.Filled == table.Rows.Count) is not { } at)
            return null;
        JsonObject source = MappingDraft.Column(at);
        source["form"] = "listed";
        for (int row = 0; row < values.Count; row++)
        {
            if (values[row] is { } value)
                MappingDraft.SetRow(source, table.RowNames[row], at.TextAt(row), value);
        }
        return source;
    }

    public static string? Shown(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
