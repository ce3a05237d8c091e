using System.Text;

namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>A sheet that is sent with the small campaign of a test: what is asked of it, and what is read in the end.</summary>
internal static class AskedSheet
{
    /// <summary>Bags are weighed with their litter, empty ones weigh 0.4 g.</summary>
    public static Campaign Campaign { get; } = new("field-2025", "net-90")
    {
        Licence = "CC0-1.0",
        Bury = new DayRange(new DateOnly(2025, 4, 20), new DateOnly(2025, 6, 10)),
        DigUp = new DayRange(new DateOnly(2025, 7, 20), new DateOnly(2025, 9, 20)),
        Lots = [Lot("F", "fast", "0.8", "0.4", "2"), Lot("S", "slow", "0.55", "0.4", "2.2")],
        Bags = new Dictionary<string, string> { ["mass_basis"] = "gross", ["drying_initial"] = "oven", ["drying"] = "oven" },
        Groups = [new CampaignGroup("hill-school") { CountryCode = "DE" }],
    };

    /// <summary>A burial of two bags, its place and days the same in every test.</summary>
    public static string Bags(string hole, string fast, string slow) =>
        $"{hole},meadow,48.1,9.2,fast,{fast},2025-05-14,2025-08-12\n{hole},meadow,48.1,9.2,slow,{slow},2025-05-14,2025-08-12\n";

    public static string Head(string masses) => $"Hole,Place,Lat,Long,Litter,{masses},Buried,Dug up\n";

    public static Dictionary<string, string> Lot(string id, string role, string share, string tare, string nominal) => new()
    {
        ["lot_id"] = id,
        ["role"] = role,
        ["hydrolysable_fraction"] = share,
        ["hydrolysable_fraction_sd"] = "0.02",
        ["tare_g"] = tare,
        ["litter_mass_nominal_g"] = nominal,
    };

    public static Inquiry Ask(string table, params (string Id, string Value)[] answers) => Of(table, "en", answers);

    public static Inquiry Ask(string table, Campaign? campaign, (string Id, string Value)[] answers) =>
        Of(FileOf(table), "en", answers, campaign);

    public static Inquiry Of(string text, string language, params (string Id, string Value)[] answers) =>
        Of(FileOf(text), language, answers, Campaign);

    public static Inquiry Of(byte[] book, string language, params (string Id, string Value)[] answers) =>
        Of(Written("table.xlsx", book), language, answers, Campaign);

    public static Inquiry Of(string path, string language, (string Id, string Value)[] answers, Campaign? campaign) =>
        SheetInquiry.Of(path, campaign, answers.Append(Shown).DistinctBy(answer => answer.Id)
            .ToDictionary(answer => answer.Id, answer => answer.Value), SenderWords.Find(language)!, IntakeLimits.Default,
            new DateOnly(2026, 1, 1));

    /// <summary>Whether places may be seen is asked of every table: they may, where a test does not say otherwise.</summary>
    private static (string Id, string Value) Shown => ("places", "open");

    public static string[] Ids(this Inquiry inquiry) => [.. inquiry.Questions.Select(question => question.Id)];

    public static string[] Told(Inquiry inquiry) => [.. inquiry.Told.Select(told => told.Code)];

    /// <summary>The bags as they are read when everything is answered.</summary>
    public static IReadOnlyList<BagRow> Read(string table, params (string Id, string Value)[] answers) => Tables(table, answers).Bags;

    public static ContributionTables Tables(string table, params (string Id, string Value)[] answers)
    {
        ReadResult read = Read(Encoding.UTF8.GetBytes(table), "table.csv", "en", answers);
        Assert.Empty(read.Findings.Select(finding => finding.ToString()));
        return read.SoundRows!;
    }

    /// <summary>All that is read once nothing is asked any more.</summary>
    public static ReadResult Read(byte[] file, string name, string language, params (string Id, string Value)[] answers)
    {
        string path = Written(name, file);
        Inquiry inquiry = Of(path, language, answers, Campaign);
        Assert.Equal([], inquiry.Ids());
        Assert.Empty(inquiry.Findings);
        return Read(path, inquiry.Mapping!);
    }

    public static ReadResult Read(string file, string mapping)
    {
        string path = Path.ChangeExtension(file, ".mapping.yaml");
        File.WriteAllText(path, mapping);
        return ContributionReader.Read(file, IntakeLimits.Default, path);
    }

    public static string FileOf(string table) => Written("table.csv", Encoding.UTF8.GetBytes(table));

    private static string Written(string name, byte[] bytes)
    {
        string path = Path.Combine(Directory.CreateTempSubdirectory("asked-").FullName, name);
        File.WriteAllBytes(path, bytes);
        return path;
    }
}
