namespace DecayAtlas.Pipeline.CrossCheck;

/// <summary>Burials whose S and ln k together lie off their replicates, by the scatter of all burials of their ecosystem and
/// campaign.</summary>
internal sealed record MultivariateCheck() : FlagDefinition(
    FlagFamily.Outlier, "multivariate-outlier", Severity.Note, RecordKind.Burial,
    "S and ln k of the burial, taken together, lie far from the other burials of the site. The scatter of many sites tells what is "
    + "far, so that an odd burial is seen beside two others, where replicate-outlier can't judge. S and ln k hold both mass losses; a "
    + "slip in either mass, or two bags exchanged, moves both.",
    "squared robust distance of the difference from the mean of the site's other burials > the 1 - multivariate_outlier_level quantile "
    + "of chi-square with 2 degrees of freedom (a distance of 3.9 by default). The scatter is that of all accepted burials of the "
    + "ecosystem in the campaign about their site means (fast minimum covariance determinant), where they are 50 or more, else of the "
    + "whole campaign; each burial's own measuring errors are added. Sites with 3 burials or more are judged; at most a third of a "
    + "site is noted.",
    "Check both bags' masses, and that they were not swapped; a real extreme may stand.")
{
    public override bool CastsDoubt => true;

    [Setting("multivariate_outlier_level", "a share of burials above 0 and at most 0.05",
        "Share of sound burials that chance would note as apart in S and ln k together", Above = 0, Most = 0.05)]
    public double MultivariateOutlierLevel { get; init; } = 0.0005;

    /// <summary>The flags, and how many burials were in groups large enough to judge.</summary>
    public (IReadOnlyList<Flag> Flags, int Judged) Raise(IReadOnlyList<Evidence> evidence)
    {
        // one group of replicates: one site, campaign and treatment of one contributor
        ReplicateEvidence[][] groups = evidence.SelectMany(e => e.Replicates.GroupBy(r => r.Group).Select(g => g.ToArray()))
            .Where(g => g.Length >= ReplicateScatter.FewestInGroup).ToArray();
        List<Flag> flags = new();
        int judged = 0;
        foreach (IGrouping<string, ReplicateEvidence[]> campaign in groups.GroupBy(g => g[0].Campaign, StringComparer.Ordinal)
            .OrderBy(c => c.Key, StringComparer.Ordinal))
        {
            // ecosystems with too few burials, or without a name, are judged by the scatter of the whole campaign
            ILookup<bool, (string? Name, ReplicateEvidence[][] Groups)> ecosystems = campaign
                .GroupBy(g => g[0].Ecosystem, StringComparer.Ordinal).Select(e => (Name: e.Key, Groups: e.ToArray()))
                .ToLookup(e => e.Name is not null && e.Groups.Sum(g => g.Length) >= ReplicateScatter.FewestRows);
            List<(string Of, ReplicateEvidence[][] Reference, ReplicateEvidence[][] Judged)> parts =
                [.. ecosystems[true].OrderBy(e => e.Name, StringComparer.Ordinal)
                    .Select(e => ($"{e.Name} in campaign {campaign.Key}", e.Groups, e.Groups))];
            if (ecosystems[false].Any())
                parts.Add(($"campaign {campaign.Key}", [.. campaign], [.. ecosystems[false].SelectMany(e => e.Groups)]));
            (IReadOnlyList<Flag> Flags, int Judged)[] found = new (IReadOnlyList<Flag> Flags, int Judged)[parts.Count];
            Parallel.For(0, parts.Count, i => found[i] = Of(parts[i].Of, parts[i].Reference, parts[i].Judged));
            flags.AddRange(found.SelectMany(f => f.Flags));
            judged += found.Sum(f => f.Judged);
        }

        return (flags, judged);
    }

    private (IReadOnlyList<Flag> Flags, int Judged) Of(string where, ReplicateEvidence[][] reference, ReplicateEvidence[][] judged)
    {
        IReadOnlyList<Replicate>[] pairs = [.. reference.Select(g => (IReadOnlyList<Replicate>)[.. g.Select(r => r.Pair)])];
        if (ReplicateScatter.Of(pairs, MultivariateOutlierLevel).Value is not { } scatter)
            return ([], 0);
        HashSet<ReplicateEvidence[]> asked = [.. judged];
        return (
        [
            .. scatter.Apart.Where(a => asked.Contains(reference[a.Group])).Select(a =>
            {
                ReplicateEvidence burial = reference[a.Group][a.Index];
                return FlagOn(burial.ContributionId, burial.BurialId, new(string.Create(InvariantCulture,
                    $"S is {Math.Abs(a.DeviationX):0.000} {(a.DeviationX < 0 ? "below" : "above")} and ln k "
                    + $"{Math.Abs(a.DeviationY):0.000} {(a.DeviationY < 0 ? "below" : "above")} the mean of the other "
                    + $"{reference[a.Group].Length - 1} burials of the site: robust distance {a.Distance:0.0}, limit "
                    + $"{scatter.Limit:0.0}, by the scatter of {scatter.Rows} burials of {where}."),
                    a.Distance, scatter.Limit, "1"));
            }),
        ], judged.Sum(g => g.Length));
    }
}
