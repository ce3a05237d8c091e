namespace DecayAtlas.Contributions.Tables.Warnings;

/// <summary>
/// Results of samples that nobody can compare as they stand. Told, and no ground to refuse: the weighings beside them are sound, and k and
/// S do not depend on them.
/// </summary>
internal static class SampleWarnings
{
    private const double Rounding = 0.01;   // of a Shannon index written with two digits

    public static IReadOnlyList<Finding> Of(IEnumerable<SampleRow> samples, string file, string? sheet)
    {
        FindingList warnings = new();
        foreach (SampleRow sample in samples)
        {
            bool hasCopies = sample.GeneCopiesPerGramDry is not null || sample.GeneCopiesPerGramMoist is not null;
            bool hasDiversity = sample.Richness is not null || sample.ShannonIndexNat is not null;
            Method(hasDiversity, sample.DiversityMethod, "diversity_method", "richness or Shannon index");
            Method(hasCopies, sample.GeneCopiesMethod, "gene_copies_method", "gene copies");
            Method(sample.FungiToBacteriaRatio is not null, sample.FungiToBacteriaMethod, "fungi_to_bacteria_method",
                "fungi to bacteria ratio");
            if ((hasCopies || hasDiversity) && sample.TargetGene is null)
            {
                Add(FindingCode.ResultWithoutGene, "target_gene", "richness, Shannon index or gene copies of an unnamed gene",
                    "the gene or locus, or nobody knows what was counted", "fill in target_gene, for example ITS or 16S rRNA");
            }
            // With n taxa the index is largest, ln n, where all are equally frequent (Shannon 1948, section 6).
            if (sample is { ShannonIndexNat: { } shannon, Richness: { } richness } && shannon > Math.Log(Math.Max(richness, 1)) + Rounding)
            {
                Add(FindingCode.ShannonAboveRichness, "shannon_index_nat", Invariant($"{shannon} with {richness} taxa"),
                    Invariant($"at most the natural logarithm of the richness, {Math.Log(Math.Max(richness, 1)):0.##}"),
                    "see whether the index has base 2; then multiply it by 0.6931");
            }

            void Method(bool isNeeded, string? method, string column, string result)
            {
                if (isNeeded && method is null)
                {
                    Add(FindingCode.ResultWithoutMethod, column, $"{result} without a method",
                        "how it was measured, or it can be compared with no other", $"fill in {column}");
                }
            }

            void Add(string code, string column, string found, string expected, string mend) =>
                warnings.Add(new Finding(code, file, sample.Row, column, found, expected, mend) { Sheet = sheet });
        }
        return warnings.Close(file);
    }
}
