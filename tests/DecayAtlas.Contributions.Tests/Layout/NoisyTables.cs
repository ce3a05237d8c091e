using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace DecayAtlas.Contributions.Tests.Layout;

/// <summary>A table that is known, with what people put around and into it: the same rows come out, in order, and all else is
/// told.</summary>
public class NoisyTables
{
    private static readonly string[] Words = ["Mittelwert", "Mean", "Moyenne", "Promedio", "Summe", "Total"];

    [Property(MaxTest = 200)]
    public Property Rows_come_out_whatever_stands_around_them() => Prop.ForAll(Gen.Choose(0, int.MaxValue - 1).ToArbitrary(), seed =>
    {
        Random random = new(seed);
        int count = random.Next(3, 30);
        char separator = random.Next(2) == 0 ? ';' : '\t';
        string[][] rows = [.. Enumerable.Range(1, count).Select(i => new[]
        {
            $"B{i}", $"Site {(char)('A' + i / 5)}", i % 2 == 0 ? "fast" : "slow", $"0{i % 9 + 1}.05.2024",
            FormattableString.Invariant($"{2 + random.NextDouble():0.000}").Replace('.', ','),
            random.Next(8) == 0 ? "lost" : FormattableString.Invariant($"{1 + random.NextDouble():0.000}").Replace('.', ','),
        })];
        string[] header = ["bag", "site", "litter", "buried", "before (g)", "after (g)"];
        List<string> lines = [];
        int titles = random.Next(3);
        for (int i = 0; i < titles; i++)
            lines.Add($"A line of title {i}");
        if (titles > 0 && random.Next(2) == 0)
            lines.Add("");
        lines.Add(string.Join(separator, header));
        int repeated = 0, computed = 0;
        for (int i = 0; i < count; i++)
        {
            lines.Add(string.Join(separator, rows[i]));
            if (i > 1 && i < count - 1 && random.Next(10) == 0)
            {
                lines.Add(string.Join(separator, header));
                repeated++;
            }
        }
        if (random.Next(2) == 0)
        {
            lines.Add(string.Join(separator, Words[random.Next(Words.Length)], "", "", "", "2,500", "1,500"));
            computed++;
        }
        if (random.Next(2) == 0)
            lines.AddRange(["", "weighed on the old balance, dried for two days"]);
        // a bag whose masses are by chance the means of those above is asked about, and this sender knows that it is one
        (string, string)[] areBags = [.. Enumerable.Range(1, lines.Count).Select(line => ($"layout.aggregate:{line}", "read"))];
        TidyTable table = LaidOut.Of(string.Join(random.Next(2) == 0 ? "\n" : "\r\n", lines), areBags);
        Assert.Equal(rows.Select(row => string.Join('|', row)),
            table.Rows.Select(row => string.Join('|', row.Take(header.Length).Select(cell => cell.Value.Text))));
        Assert.Equal((repeated, computed), (table.ToldOf("header-repeated"), table.ToldOf("aggregate-rows")));
    });
}
