using System.Globalization;

namespace DecayAtlas.Contributions.Wide;

/// <param name="Original">What stood in the cell.</param>
/// <param name="Row">1-based row of that cell; another one than that of the record where a site's row was filled up from a later
/// row.</param>
/// <param name="Column">0-based column of that cell, or -1 for a fixed value or a pattern.</param>
internal readonly record struct MappedValue(string Text, Finding? Fault, string Original, int Row, int Column);

/// <param name="Row">The row of the wide table in which it first stands.</param>
internal sealed record MappedRow(int Row, MappedValue[] Values);

internal sealed class MappedRows(WideTable wide, Mapping mapping, TableSources table, FindingList findings)
{
    private readonly FieldSource[] _telling = [.. table.Sources.Where(source => source.Column is not null
        && (table.Schema.Name == "samples" ? source.Column != BagColumnOf(table) : source.IsOwn))];

    private readonly int _share = table.Sources.ToList().FindIndex(source => source.IsShare);

    private readonly Dictionary<string, int> _placeOf = table.Sources.Index().DistinctBy(source => source.Item.Field.Name)
        .ToDictionary(source => source.Item.Field.Name, source => source.Index);

    public IEnumerable<HeldCells> Cells() => Records().Select(row => new HeldCells(
        wide.NumberOf(row.Row), Array.ConvertAll(row.Values, value => (value.Text, value.Fault)),
        (fault, column) => Locate(fault, row, column)));

    // A site or a lot that stands in several rows is one record; a bag or a sample is one record a row.
    private IEnumerable<MappedRow> Records()
    {
        IEnumerable<MappedRow> all = wide.Rows.Where(IsThere).Select(Row);
        return table.Schema.Name is "sites" or "lots" ? Merged(all) : all;
    }

    // Names the column of the wide table, and the field beside it.
    private Finding Locate(Finding fault, MappedRow row, int column)
    {
        if (column < 0)
            return wide.Place(fault, row.Row) with { Field = table.Schema.Name };
        FieldSource source = table.Sources[column];
        MappedValue value = row.Values[column];
        if (source.Value is not null && source.Or.Count == 0)
            return fault with { File = mapping.File, Row = mapping.LineOf(source.Place), Column = JsonPlace.NameOf(source.Place) };
        return wide.Place(fault, value.Row, value.Column) with
        {
            Column = source.Pattern ?? source.Column,
            Field = $"{table.Schema.Name}.{source.Field.Name}",
            // The contributor must find the cell again, and there it is written as it was before units and dates were turned.
            Found = source.Column is not null && value.Fault is null && value.Text.Length > 0 && value.Original != value.Text
                && fault.Found.Contains(value.Text, StringComparison.Ordinal)
                ? $"{fault.Found} (written {FindingText.Quote(value.Original)})" : fault.Found,
        };
    }

    // Whether a row has this record at all. A row without anything in the columns of a sample, other than those that name its bag, has no
    // sample, and a burial without anything in the columns of one bag alone does not have that bag; nothing is lost by leaving it out.
    private bool IsThere(SheetRow row) => _telling.Length == 0
        || Array.Exists(_telling, source => wide.Cell(row, source.Column!.Trim()).Kind != SheetCellKind.Empty);

    private static string? BagColumnOf(TableSources table) => table.Sources.First(source => source.Field.Name == "bag_id").Column;

    private MappedRow Row(SheetRow row)
    {
        findings.Time.Ask();
        MappedRow made = new(row.Row, [.. table.Sources.Select(source => FirstOf(source, row))]);
        if (_share >= 0)
            made.Values[_share] = Weighed(made, _share);
        if (_placeOf.TryGetValue("ash_fraction", out int ash) && table.Sources[ash].Form == SourceForm.MassShare)
            made.Values[ash] = ShareOf(made.Values[ash], table.Sources[ash].Of is { } of ? NumberIn(FirstOf(of, row)) : DugUp(made));
        return made;
    }

    // without the whole there is no share of it
    private static MappedValue ShareOf(MappedValue part, decimal? whole) => NumberIn(part) is not { } mass ? part
        : part with { Text = whole is > 0 ? Math.Round(mass / whole.Value, 8).ToString("G29", CultureInfo.InvariantCulture) : "" };

    private static decimal? NumberIn(MappedValue value) => value.Fault is null
        && decimal.TryParse(value.Text, NumberStyles.Float, CultureInfo.InvariantCulture, out decimal number) ? number : null;

    // the litter that was dug up, without its bag and the water that is known to be in it
    private decimal? DugUp(MappedRow row)
    {
        decimal? bag = TextOf(row, "mass_basis") == "gross" ? TareOf(TextOf(row, "lot_id")) : 0;
        decimal water = Number(row, "moisture_final_fraction") ?? 0;
        return (Number(row, "mass_final_g") - bag) * (1 - water);
    }

    private string TextOf(MappedRow row, string field) => _placeOf.TryGetValue(field, out int at) ? row.Values[at].Text : "";

    private decimal? Number(MappedRow row, string field) => _placeOf.TryGetValue(field, out int at) ? NumberIn(row.Values[at]) : null;

    // A share or loss with the first mass of its row makes the last mass.
    private MappedValue Weighed(MappedRow row, int share)
    {
        FieldSource source = table.Sources[share];
        MappedValue value = row.Values[share];
        if (NumberIn(value) is not { } stated || Number(row, "mass_initial_g") is not { } first)
        {
            return value.Text.Length > 0 && value.Fault is null && TextOf(row, "mass_initial_g").Length == 0 ? value with { Text = "" }
                : value;
        }
        if (source.Form == SourceForm.Change)
            stated = -stated;
        decimal left = source.Form == SourceForm.Remaining ? stated : first - stated;
        if (source.Unit is "percent" or "fraction")
        {
            decimal bag = !source.IsShareOfAll && TextOf(row, "mass_basis") == "gross" ? TareOf(TextOf(row, "lot_id")) ?? 0 : 0;
            left = bag + (first - bag) * (source.Form is SourceForm.Loss or SourceForm.Change ? 1 - stated : stated);
        }
        return value with { Text = left.ToString("G29", CultureInfo.InvariantCulture) };
    }

    private decimal? TareOf(string lot) =>
        mapping.Lots.FirstOrDefault(stated => stated.Values.GetValueOrDefault("lot_id") == lot)?.Values.GetValueOrDefault("tare_g")
            is { } tare && decimal.TryParse(tare, NumberStyles.Float, CultureInfo.InvariantCulture, out decimal grams) ? grams : null;

    private MappedValue FirstOf(FieldSource source, SheetRow row)
    {
        if (source.Unless is { } unless && unless.Columns.Any(column => unless.Words.Contains(unless.AreColours
            ? wide.LookOf(row, wide.OrdinalOf[column])?.ColourAmong(unless.Words.Contains) ?? "" : wide.Cell(row, column).Text.Trim())))
        {
            return new MappedValue("", null, "", row.Row, -1);
        }
        MappedValue value = Value(source, row);
        foreach (FieldSource other in source.Or)
        {
            if (source.Field.Name == "notes")
            {
                MappedValue more = FirstOf(other, row);
                value = value.Text.Length == 0 ? more : more.Text.Length == 0 ? value : value with { Text = $"{value.Text}; {more.Text}" };
            }
            else if (value.Text.Length == 0 && value.Fault is null)
            {
                value = FirstOf(other, row);
            }
        }
        return value;
    }

    private MappedValue Value(FieldSource source, SheetRow row)
    {
        if (source.Value is { } fixedValue)
            return new MappedValue(fixedValue, null, fixedValue, row.Row, -1);
        if (source.Pattern is { } pattern)
        {
            const int longest = FieldSchema.LongestOfAll;
            (string filled, long length) =
                RowPattern.Fill(pattern, longest, column => wide.Cell(row, column.Trim()).Text.AsMemory().Trim());
            if (source.Form == SourceForm.Id)
                filled = Identifier.Of(filled);
            return new MappedValue(filled, length > longest ? CellCheck.TooLong(source.Field.Name, length, longest) : null, pattern,
                row.Row, -1);
        }
        string column = source.Column!.Trim();
        SheetCell cell = source.Form switch
        {
            SourceForm.Comment => SheetCell.OfText(wide.LookOf(row, wide.OrdinalOf[column])?.Comment ?? ""),
            SourceForm.Fill => SheetCell.OfText(wide.LookOf(row, wide.OrdinalOf[column])?.ColourAmong(source.Words.ContainsKey) ?? ""),
            _ => wide.Cell(row, column),
        };
        (string text, Finding? fault) = source.RowWords.TryGetValue(wide.NameOf(row), out IReadOnlyDictionary<string, string>? own)
            ? OfRow(source, cell, own) : ColumnValue.Of(source, cell, mapping.Form, wide.IsDate1904);
        return WithoutBag(source, row, new MappedValue(text, fault, cell.Text, row.Row, wide.OrdinalOf[column]));
    }

    // What is said of a row holds while its cell is the one that it was said of.
    private static (string Text, Finding? Fault) OfRow(FieldSource source, SheetCell cell, IReadOnlyDictionary<string, string> words)
    {
        string text = cell.Text.Length > FieldSchema.LongestOfAll ? "" : cell.Text.Trim();
        return words.TryGetValue(text, out string? meaning) ? (meaning, null)
            : ("", source.Field.Fault(FindingCode.MappingBroken, FindingText.Quote(text),
                $"{string.Join(" or ", words.Keys.Select(word => FindingText.Quote(word)))}, of which the mapping says what it means here",
                "answer the questions about this table anew, or take the row out of the mapping"));
    }

    // The empty bag is taken off a mass; where it is not known there is no mass without it.
    private MappedValue WithoutBag(FieldSource source, SheetRow row, MappedValue mass)
    {
        if (source.Less is not { } less || mass.Fault is not null || mass.Text.Length == 0
            || !decimal.TryParse(mass.Text, NumberStyles.Float, CultureInfo.InvariantCulture, out decimal whole))
        {
            return mass;
        }
        MappedValue bag = FirstOf(less, row);
        if (bag.Fault is not null)
            return bag;
        if (bag.Text.Length == 0)
        {
            return mass with
            {
                Fault = source.Field.Fault(FindingCode.ValueMissing, "a mass with its bag, and no mass of the empty bag in this row",
                    "the mass of the empty bag, which is taken off", "write it into the row"),
            };
        }
        return decimal.TryParse(bag.Text, NumberStyles.Float, CultureInfo.InvariantCulture, out decimal empty)
            ? mass with { Text = (whole - empty).ToString("G29", CultureInfo.InvariantCulture) } : bag;
    }

    private List<MappedRow> Merged(IEnumerable<MappedRow> rows)
    {
        int key = table.Sources.ToList().FindLastIndex(source => source.Field.Unique);
        Dictionary<string, MappedRow> byId = [];
        List<MappedRow> inOrder = [];
        foreach (MappedRow row in rows)
        {
            // A row without an id is told where its bag is told to have none.
            if (row.Values[key].Text.Length == 0 && row.Values[key].Fault is null)
                continue;
            if (byId.TryAdd(row.Values[key].Text, row))
                inOrder.Add(row);
            else
                Merge(byId[row.Values[key].Text], row);
        }
        return inOrder;
    }

    // An empty cell takes no stand; a cell that says otherwise than an earlier row is told.
    private void Merge(MappedRow first, MappedRow next)
    {
        for (int i = 0; i < table.Sources.Count; i++)
        {
            MappedValue earlier = first.Values[i], later = next.Values[i];
            if (later.Fault is { } fault)
            {
                findings.Add(Locate(fault, next, i));
            }
            else if (later.Text.Length == 0 || later.Text == earlier.Text || earlier.Fault is not null)
            {
                continue;
            }
            else if (earlier.Text.Length == 0)
            {
                first.Values[i] = later;
            }
            else
            {
                int number = wide.NumberOf(earlier.Row);
                findings.Add(Locate(new Finding(FindingCode.RowsDisagree, FindingText.Quote(later.Original),
                    Invariant($"{FindingText.Quote(earlier.Original)}, as row {number} says of the same {table.Schema.Name[..^1]}"),
                    "correct one of the two rows, or give the two different ids"), next, i));
            }
        }
    }
}
