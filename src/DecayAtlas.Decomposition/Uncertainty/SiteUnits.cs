namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>The burials of a site, gathered into independent units in a fixed order.</summary>
internal sealed record SiteUnits(ReplicationUnit Unit, SiteBurial[][] Groups)
{
    public double[] Means { get; } = [.. Groups.Select(g => g.Average(b => b.Value))];

    /// <summary>Plots are the units where all burials name one, there are at least two, and one of them holds several burials.</summary>
    public static SiteUnits Of(IReadOnlyList<SiteBurial> burials)
    {
        // sorted, so that the order in which burials arrive can't change the last digit of a sum
        SiteBurial[] sorted = [.. burials
            .OrderBy(b => b.Plot, StringComparer.Ordinal).ThenBy(b => b.Value)
            .ThenBy(b => b.Shared.Keys.FastLot, StringComparer.Ordinal).ThenBy(b => b.Shared.Keys.SlowLot, StringComparer.Ordinal)
            .ThenBy(b => b.Shared.Keys.FastBatch, StringComparer.Ordinal).ThenBy(b => b.Shared.Keys.SlowBatch, StringComparer.Ordinal)];
        if (sorted.All(b => b.Plot is not null))
        {
            SiteBurial[][] plots = [.. sorted.GroupBy(b => b.Plot!, StringComparer.Ordinal).Select(g => g.ToArray())];
            if (plots.Length > 1 && plots.Length < sorted.Length)
                return new SiteUnits(ReplicationUnit.Plot, plots);
        }

        return new SiteUnits(ReplicationUnit.Burial, [.. sorted.Select(b => new[] { b })]);
    }
}
