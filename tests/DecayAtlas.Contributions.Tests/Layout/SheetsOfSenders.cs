using System.Text.Json;

namespace DecayAtlas.Contributions.Tests.Layout;

/// <summary>Sheets that were made by somebody who had not seen the program, each with what is true of it: as many rows come out as there
/// are bags, or burials, or rows that were written twice.</summary>
public class SheetsOfSenders
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "sheets");

    // Rows more than bags or burials: hidden or written twice, and so to be asked about. Common sense of the story beside each sheet.
    private static readonly Dictionary<string, int> Further = new()
    {
        ["02"] = 2,
        ["04"] = 1,
        ["13"] = 1,
        ["34"] = 1,
    };

    // two places beside each other under names in three rows are one row each still; what they are is asked
    private const string SideBySide = "h06-lanvezou-trois-niveaux";

    [Fact]
    public void As_many_rows_come_out_as_there_are_bags_or_burials()
    {
        Assert.SkipWhen(!Directory.Exists(Folder), "there are no sheets of senders here");
        List<string> wrong = [];
        foreach (string folder in Directory.GetDirectories(Folder).Order(StringComparer.Ordinal))
        {
            string name = Path.GetFileName(folder), number = name[..2];
            if (name == SideBySide)
                continue;
            using JsonDocument truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "truth.json")));
            JsonElement[] bags = truth.RootElement.TryGetProperty("bags", out JsonElement all) && all.ValueKind == JsonValueKind.Array
                ? [.. all.EnumerateArray()] : [];
            string sheet = Directory.GetFiles(folder, "sheet.*").Single();
            (TidyTable? table, IReadOnlyList<Finding> findings) = LaidOut.Try(File.ReadAllBytes(sheet));
            if (bags.Length == 0)
                continue;   // means, k and S alone, or nothing to read
            int more = Further.GetValueOrDefault(number);
            int burials = bags.Select(bag => (Text(bag, "site"), Text(bag, "burial"))).Distinct().Count();
            if (table is null)
                wrong.Add($"{name}: {findings[0]}");
            else if (table.Rows.Count != bags.Length + more && table.Rows.Count != burials + more)
                wrong.Add($"{name}: {table.Rows.Count} rows, {bags.Length} bags in {burials} burials");
        }
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    private static string Text(JsonElement bag, string name) => bag.TryGetProperty(name, out JsonElement value) ? value.ToString() : "";
}
