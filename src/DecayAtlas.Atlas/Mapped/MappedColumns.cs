namespace DecayAtlas.Atlas.Mapped;

/// <summary>k and S of sites as columns that stand beside those of the site.</summary>
public sealed class MappedColumns
{
    private readonly Dictionary<string, int> _rowOf;
    private readonly ExportedRows _rows;

    public MappedColumns(IEnumerable<ReleasedSiteCampaign> campaigns)
    {
        // the last row stands for all sites that have nothing
        MappedSite[] sites = [.. MappedSite.Of(campaigns).Values, new MappedSite { SiteKey = "" }];
        _rowOf = sites.Index().ToDictionary(s => s.Item.SiteKey, s => s.Index, StringComparer.Ordinal);
        _rows = new ExportedRows(MappedSite.Table.ExportedColumns, MappedSite.Table.RunOf(sites).Columns);
    }

    public static IReadOnlyList<ColumnInfo> Infos { get; } = [.. MappedSite.Table.ExportedColumns.Skip(1)];

    /// <summary>A cell for each of the columns, with the digits that the error of its number supports.</summary>
    internal IEnumerable<object?> Of(string siteKey)
    {
        int row = _rowOf.GetValueOrDefault(siteKey, _rowOf[""]);
        return Infos.Select((_, column) => _rows[column + 1, row]);
    }

    /// <summary>A text, a whole number or a number with all its digits for each of the columns; missing is null.</summary>
    public object?[] WholeOf(string siteKey) => [.. Of(siteKey).Select(cell => cell is ExportedNumber number ? number.Value : cell)];
}
