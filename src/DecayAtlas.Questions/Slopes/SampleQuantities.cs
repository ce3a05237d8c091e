namespace DecayAtlas.Questions.Slopes;

/// <summary>What samples of a release tell in numbers, as mean of a site in a campaign.</summary>
internal static class SampleQuantities
{
    private static readonly string FungiToBacteria = NameOf(nameof(ReleasedSample.FungiToBacteriaRatio));

    /// <summary>By the column of the table samples.</summary>
    private static readonly Dictionary<string, Func<ReleasedSample, double?>> All = new(StringComparer.Ordinal)
    {
        [NameOf(nameof(ReleasedSample.Richness))] = s => s.Richness,
        [NameOf(nameof(ReleasedSample.ShannonIndexNat))] = s => s.ShannonIndexNat,
        [NameOf(nameof(ReleasedSample.GeneCopiesPerGramDry))] = s => s.GeneCopiesPerGramDry,
        [NameOf(nameof(ReleasedSample.GeneCopiesPerGramMoist))] = s => s.GeneCopiesPerGramMoist,
        [FungiToBacteria] = s => s.FungiToBacteriaRatio,
    };

    public static IReadOnlyCollection<string> Names => All.Keys;

    /// <summary>Of untreated plots, samples of rejected burials left out.</summary>
    /// <param name="gene">Target gene, where samples have several.</param>
    /// <exception cref="ConfigurationException">No sample is of that gene, or none is named where numbers of several would mix.</exception>
    public static Func<ReleasedPlot, double?> Means(IReadOnlyList<ReleasedSample> samples, string name, string? gene)
    {
        Func<ReleasedSample, double?> value = All[name];
        string rejected = AtlasCode.Of(Use.Rejected);
        ReleasedSample[] taken = [.. samples.Where(s => value(s) is not null && s.Use != rejected && Treatment.IsUntreated(s.Treatment))];
        // a ratio of two counts is of no one gene
        string[] genes = name == FungiToBacteria ? [] : [.. taken.Select(s => s.TargetGene ?? "not stated")
            .Distinct(StringComparer.OrdinalIgnoreCase).Order(StringComparer.OrdinalIgnoreCase)];
        if (gene is not null)
        {
            if (!genes.Contains(gene, StringComparer.OrdinalIgnoreCase))
            {
                throw new ConfigurationException($"--gene is {gene}, but no sample with {name} is of it; there are "
                    + $"{(genes.Length == 0 ? "none" : string.Join(", ", genes))}.");
            }

            taken = [.. taken.Where(s => string.Equals(s.TargetGene ?? "not stated", gene, StringComparison.OrdinalIgnoreCase))];
        }
        else if (genes.Length > 1)
        {
            throw new ConfigurationException($"Samples with {name} are of several genes ({string.Join(", ", genes)}), whose numbers do not "
                + $"compare: name one with --gene, for example --gene \"{genes[0]}\".");
        }

        Dictionary<(string, string), double> means = taken.GroupBy(s => (s.SiteKey, s.Campaign))
            .ToDictionary(g => g.Key, g => g.Average(s => value(s)!.Value));
        return p => means.TryGetValue((p.SiteKey, p.Campaign), out double mean) ? mean : null;
    }

    private static string NameOf(string property) => AtlasTables.Samples.NameOf(property);
}
