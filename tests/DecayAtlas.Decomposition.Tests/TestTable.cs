using System.Globalization;

namespace DecayAtlas.Decomposition.Tests;

/// <summary>A small CSV beside the tests, read by column name.</summary>
internal sealed class TestTable
{
    private readonly Dictionary<string, int> _columns;

    private TestTable(string[] lines)
    {
        _columns = Cells(lines[0]).Select((c, i) => (c, i)).ToDictionary(x => x.c, x => x.i);
        Rows = [.. lines.Skip(1).Where(l => l.Length > 0).Select(l => new Row(this, Cells(l)))];
    }

    public IReadOnlyList<Row> Rows { get; }

    public static TestTable Read(string folder, string name) =>
        new(File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, folder, "data", name)));

    private static string[] Cells(string line) => [.. line.Split(',').Select(c => c.Trim('"'))];

    internal sealed class Row(TestTable table, string[] cells)
    {
        public string this[string column] => cells[table._columns[column]];

        public double Number(string column) => double.Parse(this[column], CultureInfo.InvariantCulture);
    }
}
