namespace DecayAtlas.Atlas.Schema;

/// <summary>Rows of one contributor that go to one file, column by column.</summary>
public sealed class RowRun
{
    internal RowRun(IReadOnlyList<ColumnValues> columns) => Columns = columns;

    public int Count => Columns[0].Count;

    internal IReadOnlyList<ColumnValues> Columns { get; }

    internal void Save(BinaryWriter writer)
    {
        foreach (ColumnValues column in Columns)
            column.Save(writer);
    }
}
