namespace DecayAtlas.Contributions.Layout.Blocks;

/// <summary>Where a cell stands in what was sent.</summary>
/// <param name="Sheet">Null where the file has no sheets.</param>
/// <param name="Row">1-based row or line.</param>
/// <param name="Column">0-based column.</param>
internal readonly record struct CellPlace(string File, string? Sheet, int Row, int Column);

/// <summary>What a person sees of a cell besides its value.</summary>
/// <param name="Fill">RRGGBB of a coloured cell; null for white or none.</param>
/// <param name="Comment">A note that hangs on it.</param>
/// <param name="IsHidden">Its row, column or sheet is hidden.</param>
/// <param name="IsStruck">Crossed out.</param>
/// <param name="Ink">The colour of what is written, as <c>text RRGGBB</c>, so that it is no fill; null for black.</param>
internal sealed record CellLook(string? Fill, string? Comment, bool IsHidden, bool IsStruck, string? Ink = null)
{
    public const string OfInk = "text ";

    /// <summary>That of its colours which is among some; empty for none.</summary>
    public string ColourAmong(Predicate<string> isOne) => Ink is not null && isOne(Ink) ? Ink : Fill ?? "";
}

/// <param name="Place">Where the value stands; a value that was filled down from a merged cell or a ditto mark keeps its own.</param>
/// <param name="Look">Null for a cell that looks like any other.</param>
internal sealed record TidyCell(SheetCell Value, CellPlace Place, CellLook? Look);

/// <param name="Name">Unique in its table: the header, rows of two joined by a space; made of side values where it has none.</param>
/// <param name="Unit">From a row of units under the header, as written.</param>
/// <param name="IsOfWeighing">It holds what stood in rows of one of the two weighings.</param>
/// <param name="Part">It holds a part of what stands in each cell.</param>
internal sealed record TidyColumn(string Name, string? Unit, CellPlace Place, bool IsOfWeighing = false, CellPart Part = CellPart.Whole)
{
    /// <summary>The same under a name that none of others has: with a number behind it where one has its name.</summary>
    public TidyColumn Beside(IReadOnlyList<TidyColumn> others)
    {
        string name = Name;
        for (int i = 2; others.Any(other => other.Name == name); i++)
            name = Invariant($"{Name} {i}");
        return this with { Name = name };
    }
}

/// <summary>A small table or pair of name and value that stands beside, above or on another sheet, and is no row of the table: lots,
/// tare, the balance, the day of all burials.</summary>
/// <param name="Columns">One for a pair.</param>
internal sealed record SideTable(IReadOnlyList<TidyColumn> Columns, IReadOnlyList<IReadOnlyList<TidyCell>> Rows)
{
    /// <summary>The name of the one column of a table of lines that stand for themselves: titles, remarks, footnotes.</summary>
    public const string Lines = "lines";
}

/// <summary>A table as people make it, laid out with a row a record: no titles, totals, units and blank rows, tables and sheets that
/// belong together joined, what lay on its side turned.</summary>
/// <param name="Columns">The first n of which every row has n cells.</param>
/// <param name="IsText">Cells have no types (CSV, HTML).</param>
/// <param name="Told">What was left out, joined or turned.</param>
/// <param name="Readings">Where the layout can be read in more than one way: the alternatives, of which the first was taken.</param>
internal sealed record TidyTable(
    IReadOnlyList<TidyColumn> Columns, IReadOnlyList<IReadOnlyList<TidyCell>> Rows, IReadOnlyList<SideTable> Beside, bool IsText,
    bool IsDate1904, IReadOnlyList<Told> Told, IReadOnlyList<Question> Readings);
