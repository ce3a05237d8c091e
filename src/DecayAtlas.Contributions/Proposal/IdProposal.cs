namespace DecayAtlas.Contributions.Proposal;

/// <summary>The columns that may make up an id, where the table has just one of each.</summary>
/// <param name="IsBurialRow">A row is a burial, with its fast and its slow bag.</param>
internal sealed record IdColumns(
    bool IsBurialRow, (string Name, int Column)? Site, (string Name, int Column)? Plot, (string Name, int Column)? Burial,
        (string Name, int Column)? Replicate, (string Name, int Column)? Role);

/// <summary>
/// Where an id comes from, decided by the values: a column that looks like an id by its name is none where its values come again.
/// The number of a hole that starts anew at each site is an id only together with the site.
/// </summary>
internal static class IdProposal
{
    /// <summary>The keys of a source in a mapping, and a remark.</summary>
    /// <param name="field">burial_id or bag_id.</param>
    public static (string Value, string Why) For(string field, (string Name, int Column) named, TableSniff table, IdColumns columns)
    {
        bool isBurial = field == "burial_id";
        if (Fault([named.Column], isBurial, table, columns) is not { } fault)
            return ("column: " + MappingText.Quote(named.Name), "");
        (string Name, int Column)?[] beside = isBurial ? [columns.Site, columns.Plot, columns.Replicate]
            : [columns.Site, columns.Plot, columns.Burial, columns.Replicate, columns.Role];
        List<(string Name, int Column)> parts = [named];
        foreach ((string Name, int Column)? other in beside)
        {
            if (other is not { } column || column.Name == named.Name || column.Name.AsSpan().ContainsAny('{', '}')
                || named.Name.AsSpan().ContainsAny('{', '}'))
            {
                continue;
            }

            parts.Insert(parts.Count - 1, column);
            if (Fault([.. parts.Select(part => part.Column)], isBurial, table, columns) is null)
            {
                return ("pattern: "
                    + MappingText.Quote(
                        string.Join('-',
                            parts.Select(part => $"{{{part.Name}}}"))), $"{MappingText.Remark(named.Name)} alone is no id: {fault}");
            }
        }
        return ($"pattern: {MappingReader.Todo}", $"{MappingText.Remark(named.Name)} is no id: {fault}; name in braces the columns "
            + $"that together tell one {(isBurial ? "burial" : "bag")} from all others");
    }

    /// <summary>Why values of these columns do not name one burial or bag each; null where they do.</summary>
    private static string? Fault(int[] parts, bool isBurial, TableSniff table, IdColumns columns)
    {
        Dictionary<string, List<SheetRow>> rowsById = new(StringComparer.Ordinal);
        foreach (SheetRow row in table.Rows)
        {
            string[] values = [.. parts.Select(part => row[part].Text.Trim())];
            if (values.Contains(""))
                continue;
            string id = string.Join('-', values);   // as the pattern will write it
            if (!rowsById.TryGetValue(id, out List<SheetRow>? rows))
                rowsById[id] = rows = [];
            rows.Add(row);
        }
        foreach ((string id, List<SheetRow> rows) in rowsById.Where(entry => entry.Value.Count > 1))
        {
            string shown = MappingText.Remark(id);
            if (!isBurial || columns.IsBurialRow)
                return FormattableString.Invariant($"{shown} stands in {rows.Count} rows");
            if (columns.Site is { } site && Different(rows, site.Column) is > 1 and int sites)
                return FormattableString.Invariant($"{shown} stands at {sites} sites");
            if (columns.Role is { } role && Different(rows, role.Column) < rows.Count)
                return FormattableString.Invariant($"{shown} stands in {rows.Count} rows, more than one for a litter");
            if (rows.Count > 2)
                return FormattableString.Invariant($"{shown} stands in {rows.Count} rows, and a burial has two bags");
        }
        return null;
    }

    private static int Different(IEnumerable<SheetRow> rows, int column) =>
        rows.Select(row => row[column].Text.Trim()).Distinct(StringComparer.Ordinal).Count();
}
