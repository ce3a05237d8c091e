namespace DecayAtlas.Contributions.Tables;

/// <summary>Which ids stand in which table, and on which row. Filled while tables are read, asked by later tables.</summary>
internal sealed class KeyIndex
{
    private readonly Dictionary<(string Table, string Field), Dictionary<string, int>> _rowsById = [];

    public Dictionary<string, int> Begin(string table, string field) =>
        _rowsById[(table, field)] = [];

    /// <summary>The ids of a column, or null when it could not be read, so that nothing can be said against them.</summary>
    public Dictionary<string, int>? Find(string table, string field) => _rowsById.GetValueOrDefault((table, field));
}
