namespace DecayAtlas.Contributions.Questioning;

/// <summary>Titles, notes and footers that say that something is not to be used: whether a row of the table is meant only the sender
/// knows.</summary>
internal sealed class Withdrawals(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        // a legend, grey = do not use, is asked about where its colour stands
        TidyCell[] lines = [.. table.Lines.Where(cell => StateWords.IsNotToUse(cell.Value.Text)
            && !cell.Value.Text.Contains('=', StringComparison.Ordinal))];
        if (lines.Length > 0 && _ask.Choose(Interview.Meaning, "withdrawn-lines",
            [_ask.Option("no", "withdrawn-no"), _ask.Option("yes", "withdrawn-yes")], null,
            [.. lines.Take(6).Select(cell => AskedColumn.Shown(cell, null))]) == "yes")
        {
            table.IsHopeless = "withdrawn-lines";
        }
    }
}
