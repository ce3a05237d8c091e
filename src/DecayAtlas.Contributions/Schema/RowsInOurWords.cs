namespace DecayAtlas.Contributions.Schema;

internal static class RowsInOurWords
{
    public static SiteRow InOurWords(this SiteRow row, LocalWords words)
    {
        SiteRow ours = row with
        {
            Ecosystem = words.InOurWords(Vocabulary.Ecosystem, row.Ecosystem),
            LandUse = words.InOurWords(Vocabulary.LandUse, row.LandUse),
            Management = words.InOurWords(Vocabulary.Management, row.Management),
        };
        return ours == row ? row : ours with
        {
            WordsAsSent = string.Join("; ", new[]
            {
                AsSent(Vocabulary.Ecosystem, row.Ecosystem, ours.Ecosystem), AsSent(Vocabulary.LandUse, row.LandUse, ours.LandUse),
                AsSent(Vocabulary.Management, row.Management, ours.Management),
            }.OfType<string>()),
        };
    }

    public static BagRow InOurWords(this BagRow row, LocalWords words) =>
        words.InOurWords(Vocabulary.Treatment, row.Treatment) is var treatment && treatment == row.Treatment ? row
        : row with { Treatment = treatment, TreatmentAsSent = row.Treatment };

    public static ResultRow InOurWords(this ResultRow row, LocalWords words) =>
        row with { Treatment = words.InOurWords(Vocabulary.Treatment, row.Treatment) };

    private static string? AsSent(WordList list, string? sent, string? ours) => sent == ours ? null : $"{list.Name}: {sent}";
}
