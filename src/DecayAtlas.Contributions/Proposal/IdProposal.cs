namespace DecayAtlas.Contributions.Proposal;

/// <summary>The columns that may make up an id, where the table has just one of each.</summary>
/// <param name="IsBurialRow">A row is a burial, with its fast and its slow bag.</param>
internal sealed record IdColumns(
    bool IsBurialRow, NamedColumn? Site, NamedColumn? Plot, NamedColumn? Burial, NamedColumn? Replicate, NamedColumn? Role);

/// <summary>
/// Where an id comes from, decided by the values: a column that looks like an id by its name is none where its values come again.
/// The number of a hole that starts anew at each site is an id only together with the site.
/// </summary>
internal static class IdProposal
{
    /// <summary>The keys of a source in a mapping, and a remark.</summary>
    /// <param name="field">burial_id or bag_id.</param>
    public static (string Value, string Why) For(string field, NamedColumn named, TableSniff table, IdColumns columns)
    {
        bool isBurial = field == "burial_id";
        if (Fault([named], isBurial, table, columns) is not { } fault)
            return ("column: " + MappingText.Quote(named.Name), "");
        NamedColumn?[] beside = isBurial ? [columns.Site, columns.Plot, columns.Replicate]
            : [columns.Site, columns.Plot, columns.Burial, columns.Replicate, columns.Role];
        List<NamedColumn> parts = [named];
        string remark = MappingText.Remark(named.Name);
        foreach (NamedColumn other in beside.OfType<NamedColumn>().Where(other => other.Name != named.Name))
        {
            if ((other.Name + named.Name).AsSpan().ContainsAny('{', '}'))
                continue;
            parts.Insert(parts.Count - 1, other);
            if (Fault(parts, isBurial, table, columns) is null)
            {
                string pattern = string.Join('-', parts.Select(part => $"{{{part.Name}}}"));
                return ("pattern: " + MappingText.Quote(pattern), $"{remark} alone is no id: {fault}");
            }
        }
        string what = isBurial ? "burial" : "bag";
        return ($"pattern: {MappingReader.Todo}",
            $"{remark} is no id: {fault}; name in braces the columns that together tell one {what} from all others");
    }

    // Why values of these columns do not name one burial or bag each; null where they do.
    private static string? Fault(List<NamedColumn> parts, bool isBurial, TableSniff table, IdColumns columns)
    {
        Dictionary<string, List<SheetRow>> rowsById = [];
        foreach (SheetRow row in table.Rows)
        {
            string[] values = [.. parts.Select(part => row[part.Column].Text.Trim())];
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
                return Invariant($"{shown} stands in {rows.Count} rows");
            if (columns.Site is { } site && Different(rows, site.Column) is > 1 and int sites)
                return Invariant($"{shown} stands at {sites} sites");
            if (columns.Role is { } role && Different(rows, role.Column) < rows.Count)
                return Invariant($"{shown} stands in {rows.Count} rows, more than one for a litter");
            if (rows.Count > 2)
                return Invariant($"{shown} stands in {rows.Count} rows, and a burial has two bags");
        }
        return null;
    }

    private static int Different(IEnumerable<SheetRow> rows, int column) =>
        rows.Select(row => row[column].Text.Trim()).Distinct().Count();
}
