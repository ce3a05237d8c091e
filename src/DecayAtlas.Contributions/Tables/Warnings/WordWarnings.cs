namespace DecayAtlas.Contributions.Tables.Warnings;

/// <summary>Words that are none of the vocabulary. They are kept as they are and have no code until somebody says which word of ours
/// stands for them: told, and no ground to refuse.</summary>
internal static class WordWarnings
{
    public static IReadOnlyList<Finding> Of(IReadOnlyList<SiteRow> sites, IReadOnlyList<BagRow> bags, IReadOnlyList<ResultRow> results,
        Func<string, string> fileOf, Func<string, string?> sheetOf)
    {
        FindingList warnings = new();
        Tell("sites", Vocabulary.Ecosystem, sites.Select(s => (s.Row, s.Ecosystem)));
        Tell("sites", Vocabulary.LandUse, sites.Select(s => (s.Row, s.LandUse)));
        Tell("sites", Vocabulary.Management, sites.Select(s => (s.Row, s.Management)));
        Tell("bags", Vocabulary.Treatment, bags.Select(b => (b.Row, b.Treatment)));
        Tell("results", Vocabulary.Treatment, results.Select(r => (r.Row, r.Treatment)));
        return warnings.Close(fileOf("sites"));

        void Tell(string table, WordList list, IEnumerable<(int Row, string? Word)> rows)
        {
            foreach (IGrouping<string, (int Row, string? Word)> same in rows.Where(r => r.Word is not null && list.Find(r.Word) is null)
                .GroupBy(r => r.Word!, StringComparer.Ordinal))
            {
                string instead = list.NearestTo(same.Key) is { } near ? $"write {near}, if that was meant" : "write the word that fits";
                warnings.Add(new Finding(FindingCode.WordNotOurs, fileOf(table), same.First().Row, list.Name,
                    FindingText.Quote(same.Key) + (same.Count() > 1 ? Invariant($" in {same.Count()} rows") : ""),
                    "one of " + string.Join(", ", list.Names),
                    $"{instead}, in the table or under words: of a mapping; or leave it and tell the curator which of these stands for it")
                { Sheet = sheetOf(table) });
            }
        }
    }
}
