using System.Text;
using DecayAtlas.Demo.Campaigns;
using DecayAtlas.Demo.Output;

namespace DecayAtlas.Demo.Faults;

/// <summary>
/// Contributions that intake must refuse as a whole, each for one reason. They are made from sound ones of the smaller
/// groups under other names, so that nothing but the breakage is wrong with them.
/// </summary>
internal static class BrokenContributions
{
    public static IReadOnlyList<PlantedFault> Write(IReadOnlyList<ContributionDraft> sound, string inbox)
    {
        var faults = new List<PlantedFault>();
        var models = new Queue<ContributionDraft>(sound.Where(contribution => contribution.Contributor.Kind == ContributorKind.YouthGroup));

        void Planted(string name, string code, string what) => faults.Add(new PlantedFault(name, "contribution", name, code, what));

        SortedDictionary<string, string> Model(string name)
        {
            ContributionDraft model = models.Dequeue();
            SortedDictionary<string, string> texts = ContributionFiles.TextsOf(model);
            texts["datapackage.json"] = texts["datapackage.json"].Replace(model.Id, name, StringComparison.Ordinal)
                .Replace(model.Contributor.Id, name[(model.Campaign.Id.Length + 1)..], StringComparison.Ordinal)
                .Replace(model.Contributor.Title, "An invented group", StringComparison.Ordinal);
            return texts;
        }

        void Folder(string name, string code, string what, string file, Func<string, string> spoil)
        {
            SortedDictionary<string, string> texts = Model(name);
            texts[file] = spoil(texts[file]);
            ContributionFiles.WriteFolder(Path.Combine(inbox, name), texts);
            Planted(name, code, what);
        }

        Folder("2024-spring-comma-field-club", "decimal-comma", "every mass is written with a decimal comma, in quotes", "bags.csv", DecimalCommas);
        Folder("2024-spring-leap-year-school", "date-impossible", "one bag was retrieved on 31 February", "bags.csv",
            text => EditRow(text, 1, "retrieved_on", _ => "2024-02-31"));
        Folder("2024-spring-unknown-lot-school", "id-unknown", "one bag names a lot that the table of lots does not hold", "bags.csv",
            text => EditRow(text, 2, "lot_id", _ => "F-99-9"));
        Folder("2024-spring-two-of-each-club", "id-repeated", "two bags carry the same id", "bags.csv",
            text => EditRow(text, 4, "bag_id", _ => Cell(text, 3, "bag_id")));
        Folder("2024-spring-no-dates-club", "column-missing", "the column retrieved_on was deleted", "bags.csv", text => DropColumn(text, "retrieved_on"));

        const string truncated = "2024-spring-cut-short-club";
        byte[] whole = ContributionFiles.Zip(Model(truncated));
        File.WriteAllBytes(Path.Combine(inbox, truncated + ".zip"), whole[..(whole.Length * 3 / 5)]);
        Planted(truncated, "zip-broken", "the zip file ends after three fifths of its bytes");

        const string climbing = "2024-spring-climbing-club";
        File.WriteAllBytes(Path.Combine(inbox, climbing + ".zip"), WithClimbingPath(sound[0]));
        Planted(climbing, "path-unsafe", "the zip holds a path that climbs out of its folder");
        return faults;
    }

    private static byte[] WithClimbingPath(ContributionDraft model)
    {
        using var memory = new MemoryStream();
        memory.Write(ContributionFiles.Zip(new SortedDictionary<string, string>(ContributionFiles.TextsOf(model), StringComparer.Ordinal)
        {
            ["../outside.csv"] = "this file must not be written\n",
        }));
        return memory.ToArray();
    }

    private static string DecimalCommas(string text)
    {
        string[] lines = Lines(text);
        int initial = Column(lines[0], "mass_initial_g"), final = Column(lines[0], "mass_final_g");
        for (int i = 1; i < lines.Length; i++)
        {
            string[] cells = lines[i].Split(',');
            foreach (int column in new[] { initial, final }) cells[column] = $"\"{cells[column].Replace('.', ',')}\"";
            lines[i] = string.Join(',', cells);
        }

        return Joined(lines);
    }

    private static string EditRow(string text, int row, string column, Func<string, string> edit)
    {
        string[] lines = Lines(text);
        string[] cells = lines[row].Split(',');
        int place = Column(lines[0], column);
        cells[place] = edit(cells[place]);
        lines[row] = string.Join(',', cells);
        return Joined(lines);
    }

    private static string Cell(string text, int row, string column)
    {
        string[] lines = Lines(text);
        return lines[row].Split(',')[Column(lines[0], column)];
    }

    private static string DropColumn(string text, string column)
    {
        string[] lines = Lines(text);
        int place = Column(lines[0], column);
        return Joined([.. lines.Select(line => string.Join(',', line.Split(',').Where((_, index) => index != place)))]);
    }

    // The models' tables hold no quoted cells in these rows, so that a plain split is exact.
    private static string[] Lines(string text) => text.TrimEnd('\n').Split('\n');

    private static string Joined(string[] lines)
    {
        var text = new StringBuilder();
        foreach (string line in lines) text.Append(line).Append('\n');
        return text.ToString();
    }

    private static int Column(string header, string name) => Array.IndexOf(header.Split(','), name);
}
