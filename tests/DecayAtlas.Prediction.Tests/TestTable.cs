using System.Globalization;

namespace DecayAtlas.Prediction.Tests;

/// <summary>A CSV of numbers among the test data.</summary>
internal static class TestTable
{
    public static string PathOf(string name) => Path.Combine(AppContext.BaseDirectory, "data", name);

    public static (string[] Header, double[][] Rows) Read(string name)
    {
        string[] lines = File.ReadAllLines(PathOf(name));
        return (lines[0]
            .Split(','), [.. lines.Skip(1).Select(l => l.Split(',').Select(v => double.Parse(v, CultureInfo.InvariantCulture)).ToArray())]);
    }
}
