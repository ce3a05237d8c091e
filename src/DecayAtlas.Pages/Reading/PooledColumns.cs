using DecayAtlas.Atlas.Releases;
using DecayAtlas.Atlas.Storage;

namespace DecayAtlas.Pages.Reading;

/// <summary>Columns of a table whose texts are kept once: ids of sites, lots and contributions come with every bag, and a million bags would hold as many copies.</summary>
internal sealed class PooledColumns(ReleaseReader release, string table, Dictionary<string, string> kept)
{
    private readonly ParquetColumns _columns = release.Table(table);

    public string?[] Text(string column)
    {
        string?[] values = _columns.Text(column);
        for (int i = 0; i < values.Length; i++)
        {
            if (values[i] is not { } value)
                continue;
            if (!kept.TryGetValue(value, out string? first))
                kept[value] = first = value;
            values[i] = first;
        }

        return values;
    }

    public double?[] Number(string column) => _columns.Number(column);

    public int?[] WholeNumber(string column) => _columns.WholeNumber(column);

    public bool?[] YesNo(string column) => _columns.YesNo(column);

    public DateOnly?[] Date(string column) => _columns.Date(column);
}
