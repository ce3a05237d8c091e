namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>A sheet that is sent with the campaign of a test: what is asked of it, and what is read in the end.</summary>
internal static class AskedSheet
{
    public static Campaign Campaign { get; } = new("field-2025", "net-90")
    {
        Licence = "CC0-1.0",
        Bury = new DayRange(new DateOnly(2025, 4, 20), new DateOnly(2025, 6, 10)),
        DigUp = new DayRange(new DateOnly(2025, 7, 20), new DateOnly(2025, 9, 20)),
        Lots = [Lot("F", "fast", "0.8", "0.4", "2"), Lot("S", "slow", "0.55", "0.4", "2.2")],
        Bags = new Dictionary<string, string> { ["mass_basis"] = "gross", ["drying_initial"] = "oven", ["drying"] = "oven" },
        Groups = [new CampaignGroup("hill-school") { CountryCode = "DE" }],
    };

    public static Inquiry Of(string text, string language, params (string Id, string Value)[] answers) =>
        Of(Written("table.csv", System.Text.Encoding.UTF8.GetBytes(text)), language, answers, Campaign);

    public static Inquiry Of(byte[] book, string language, params (string Id, string Value)[] answers) =>
        Of(Written("table.xlsx", book), language, answers, Campaign);

    public static Inquiry Of(string path, string language, (string Id, string Value)[] answers, Campaign? campaign) =>
        SheetInquiry.Of(path, campaign, answers.ToDictionary(answer => answer.Id, answer => answer.Value), SenderWords.Find(language)!,
            IntakeLimits.Default, new DateOnly(2026, 1, 1));

    public static string[] Ids(this Inquiry inquiry) => [.. inquiry.Questions.Select(question => question.Id)];

    /// <summary>All that is read once nothing is asked any more.</summary>
    public static ReadResult Read(byte[] file, string name, string language, params (string Id, string Value)[] answers)
    {
        string path = Written(name, file);
        Inquiry inquiry = Of(path, language, answers, Campaign);
        Assert.Equal([], inquiry.Ids());
        Assert.Empty(inquiry.Findings);
        string mapping = path + ".mapping.yaml";
        File.WriteAllText(mapping, inquiry.Mapping);
        return ContributionReader.Read(path, IntakeLimits.Default, mapping);
    }

    private static string Written(string name, byte[] bytes)
    {
        string path = Path.Combine(Directory.CreateTempSubdirectory("asked-").FullName, name);
        File.WriteAllBytes(path, bytes);
        return path;
    }

    private static Dictionary<string, string> Lot(string id, string role, string share, string tare, string nominal) => new()
    {
        ["lot_id"] = id,
        ["role"] = role,
        ["hydrolysable_fraction"] = share,
        ["hydrolysable_fraction_sd"] = "0.02",
        ["tare_g"] = tare,
        ["litter_mass_nominal_g"] = nominal,
    };
}
