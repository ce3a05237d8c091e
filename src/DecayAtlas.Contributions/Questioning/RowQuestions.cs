namespace DecayAtlas.Contributions.Questioning;

/// <summary>Rows in a colour of their own: only the sender knows what it means, or a legend beside the table.</summary>
internal sealed class RowQuestions(AskedTable table)
{
    /// <summary>The column that holds the colour of a row, and in a table beside what it means.</summary>
    private const string ColourColumn = RowLooks.ColourColumn;

    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        foreach (AskedColumn colours in table.Columns.Where(column => column.Name.StartsWith(ColourColumn, StringComparison.Ordinal)
            && column.Header.Unit is null && column.Filled > 0 && column.Distinct.All(ColourName.IsColour)).ToArray())
        {
            Make(colours);
        }
    }

    private void Make(AskedColumn colours)
    {
        // every second row shaded, or each litter in its colour, is for the eye where nothing says otherwise
        bool isRole = table.Columns.Any(column => column != colours && column.IsWords && column.Distinct.Count is 2 or 3
            && Agree(column, colours));
        foreach (string colour in colours.Distinct)
        {
            string? legend = Legend(colour);
            bool isAlternate = Enumerable.Range(1, Math.Max(0, table.Rows.Count - 1)).All(i => colours.TextAt(i) != colours.TextAt(i - 1));
            if (legend is null && (isRole || isAlternate || colours.Distinct.Count > 6))
                continue;
            int[] rows = [.. Enumerable.Range(0, table.Rows.Count).Where(i => colours.TextAt(i) == colour)];
            string? likely = legend is null ? null : StateWords.IsNotToUse(legend) ? "leave-out"
                : StateWords.ConditionOf(legend) is { } state && state is "lost" or "torn" ? StateWords.ConditionOf(legend)
                : LitterColumn.RoleOf(legend, table) switch { LitterRole.Fast => "fast", LitterRole.Slow => "slow", _ => null };
            if (likely is "fast" or "slow")
            {
                table.StateOfColour[colour] = likely;
                continue;
            }
            string? answer = _ask.Choose(Interview.Meaning, "colour:" + colour,
                [_ask.Option("nothing", "colour-nothing"), _ask.Option("lost", "lost"), _ask.Option("torn", "torn"),
                    _ask.Option("leave-out", "not-used")],
                likely, [.. rows.Select(table.SeenRow)], ColourName.Of(colour, _ask.Words), rows.Length, legend ?? "–");
            table.StateOfColour[colour] = answer ?? likely ?? "nothing";
        }
        table.Colours.Add(colours);
    }

    /// <summary>Rows that hold no bag: units below the names of columns, and lines with next to nothing in them.</summary>
    public void Leftovers()
    {
        AskedColumn[] masses = [.. table.Chosen.Where(entry => entry.Key.Field is ColumnChoice.Initial or ColumnChoice.Final
            or ColumnChoice.Loss or ColumnChoice.Remaining).Select(entry => entry.Value)];
        int[] left = masses.Length == 0 ? [] : [.. Enumerable.Range(0, table.Rows.Count).Where(IsLeft)];
        if (left.Length == 0 || left.Length * 4 > table.Rows.Count)
            return;
        _ask.Tell("no-bag-rows", left.Length, [.. left.Select(table.SeenRow)]);
        table.LeaveOut(left.Contains);

        bool IsLeft(int row) => masses.All(column => column.TextAt(row) is var text && (text.Length == 0 || LayoutWords.IsUnit(text)))
            && (masses.Any(column => column.TextAt(row).Length > 0)
                || table.Columns.Count(column => column.TextAt(row).Length > 0) * 3 <= table.Columns.Count);
    }

    private bool Agree(AskedColumn column, AskedColumn colours) => Enumerable.Range(0, table.Rows.Count)
        .GroupBy(i => colours.TextAt(i)).All(own => own.Select(column.TextAt).Distinct().Count() == 1);

    private string? Legend(string colour) => table.Table.Beside
        .Where(side => side.Columns.Count == 2 && side.Columns[0].Name == ColourColumn)
        .SelectMany(side => side.Rows).Where(row => row.Count == 2 && row[0].Value.Text == colour)
        .Select(row => row[1].Value.Text.Trim()).FirstOrDefault(text => text.Length > 0);
}
