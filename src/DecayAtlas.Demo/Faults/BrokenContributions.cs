namespace DecayAtlas.Demo.Faults;

/// <summary>
/// Contributions that intake must refuse as a whole, each for one reason. They are made from sound ones of the smaller
/// groups under other names, so that nothing but the breakage is wrong with them.
/// </summary>
internal static class BrokenContributions
{
    public static IReadOnlyList<PlantedFault> Write(IReadOnlyList<ContributionDraft> sound, string inbox)
    {
        List<PlantedFault> faults = [];
        Queue<ContributionDraft> models = new(sound.Where(contribution => contribution.Contributor.Kind == ContributorKind.YouthGroup));

        void Spoil(string group, string code, string what, Action<string, SortedDictionary<string, string>> write)
        {
            ContributionDraft model = models.Dequeue();
            string name = $"{model.Campaign.Id}-{group}";
            SortedDictionary<string, string> texts = ContributionFiles.TextsOf(model);
            texts["datapackage.json"] = texts["datapackage.json"].Replace(model.Contributor.Id, group, StringComparison.Ordinal)
                .Replace(model.Contributor.Title, "An invented group", StringComparison.Ordinal);
            write(Path.Combine(inbox, name), texts);
            faults.Add(new PlantedFault(name, PlantedFault.ContributionRecord, name, code, what));
        }

        void SpoilBags(string group, string code, string what, Func<string, string> spoil) => Spoil(group, code, what, (path, texts) =>
        {
            texts["bags.csv"] = spoil(texts["bags.csv"]);
            ContributionFiles.WriteFolder(path, texts);
        });

        void SpoilZip(string group, string code, string what, Func<SortedDictionary<string, string>, byte[]> spoil) =>
            Spoil(group, code, what, (path, texts) => File.WriteAllBytes(path + ".zip", spoil(texts)));

        SpoilBags("comma-field-club", "decimal-comma", "every mass is written with a decimal comma, in quotes", DecimalCommas);
        SpoilBags("leap-year-school", "date-impossible", "one bag was retrieved on 31 February",
            text => EditRow(text, 1, "retrieved_on", "2024-02-31"));
        SpoilBags("unknown-lot-school", "id-unknown", "one bag names a lot that the table of lots does not hold",
            text => EditRow(text, 2, "lot_id", "F-99-9"));
        SpoilBags("two-of-each-club", "id-repeated", "two bags carry the same id",
            text => EditRow(text, 4, "bag_id", Cell(text, 3, "bag_id")));
        SpoilBags("no-dates-club", "column-missing", "the column buried_on was deleted", text => DropColumn(text, "buried_on"));
        SpoilZip("cut-short-club", "zip-broken", "the zip file ends after three fifths of its bytes",
            texts =>
            {
                byte[] whole = ContributionFiles.Zip(texts);
                return whole[..(whole.Length * 3 / 5)];
            });
        SpoilZip("climbing-club", "path-unsafe", "the zip holds a path that climbs out of its folder", texts =>
        {
            texts["../outside.csv"] = "this file must not be written\n";
            return ContributionFiles.Zip(texts);
        });
        return faults;
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

    private static string EditRow(string text, int row, string column, string value)
    {
        string[] lines = Lines(text);
        string[] cells = lines[row].Split(',');
        cells[Column(lines[0], column)] = value;
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
        return Joined(lines.Select(line => string.Join(',', line.Split(',').Where((_, index) => index != place))));
    }

    // The models' tables hold no quoted cells in these rows, so that a plain split is exact.
    private static string[] Lines(string text) => text.TrimEnd('\n').Split('\n');

    private static string Joined(IEnumerable<string> lines) => string.Concat(lines.Select(line => line + "\n"));

    private static int Column(string header, string name) => Array.IndexOf(header.Split(','), name);
}
