namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>Words and stars beside the number of a mass: they are a remark on that one weighing.</summary>
internal static class CellRemarks
{
    /// <summary>What the cells of a column of masses say beside their numbers, by their texts.</summary>
    public static IReadOnlyDictionary<string, string> In(AskedTable table, AskedColumn column) => column.Distinct
        .Select(text => (text, Said: WrittenNumber.SeveralIn(text).Count == 0 && WrittenNumber.Of(text) is { Beside.Length: > 0 } written
            ? LineOf(table, written.Beside) ?? written.Beside : ""))
        .Where(cell => cell.Said.Length > 0).ToDictionary(cell => cell.text, cell => cell.Said.Trim());

    /// <summary>The line that a star behind a number points to.</summary>
    public static string? LineOf(AskedTable table, string beside) => !beside.All(sign => sign == '*') ? null
        : table.Lines.Select(cell => cell.Value.Text).FirstOrDefault(text => text.TrimStart().StartsWith(beside, StringComparison.Ordinal)
            && !text.TrimStart().StartsWith(beside + "*", StringComparison.Ordinal));

    /// <summary>Whether a line explains the star of some cell.</summary>
    public static bool IsOfStar(AskedTable table, string line) => line.TrimStart().StartsWith('*')
        && table.Columns.Any(column => column.Distinct.Any(text => text.TrimEnd().EndsWith('*')));
}
