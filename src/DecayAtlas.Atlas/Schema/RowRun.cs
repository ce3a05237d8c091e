using System.Text;

namespace DecayAtlas.Atlas.Schema;

/// <summary>Rows of one contributor that go to one file, column by column.</summary>
public sealed class RowRun
{
    internal RowRun(IReadOnlyList<ColumnValues> columns) => Columns = columns;

    public int Count => Columns[0].Count;

    internal IReadOnlyList<ColumnValues> Columns { get; }

    /// <summary>Writes the columns as they are in memory, so that a part can be put together again without computing anything
    /// anew.</summary>
    public void Save(Stream stream)
    {
        using BinaryWriter writer = new(stream, Encoding.UTF8, leaveOpen: true);
        foreach (ColumnValues column in Columns)
            column.Save(writer);
    }
}
