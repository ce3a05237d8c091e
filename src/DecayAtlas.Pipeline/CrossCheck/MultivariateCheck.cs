using System.Globalization;

namespace DecayAtlas.Pipeline.CrossCheck;

/// <summary>Burials whose S and ln k together lie off their replicates, by the scatter of all burials of their ecosystem and campaign.</summary>
internal static class MultivariateCheck
{
    /// <summary>The flags, and how many burials were in groups large enough to judge.</summary>
    public static (IReadOnlyList<Flag> Flags, int Judged) Raise(IReadOnlyList<Evidence> evidence, FlagOptions options)
    {
        // one group of replicates: one site, campaign and treatment of one contributor
        var groups = evidence.SelectMany(e => e.Replicates.GroupBy(r => r.Group).Select(g => g.ToArray())).Where(g => g.Length >= ReplicateScatter.FewestInGroup).ToArray();
        var flags = new List<Flag>();
        int judged = 0;
        foreach (var campaign in groups.GroupBy(g => g[0].Campaign, StringComparer.Ordinal).OrderBy(c => c.Key, StringComparer.Ordinal))
        {
            // ecosystems with too few burials, or without a name, are judged by the scatter of the whole campaign
            var own = campaign.Where(g => g[0].Ecosystem is not null).GroupBy(g => g[0].Ecosystem!, StringComparer.Ordinal).Where(e => e.Sum(g => g.Length) >= ReplicateScatter.FewestRows)
                .OrderBy(e => e.Key, StringComparer.Ordinal).Select(e => (Of: $"{e.Key} in campaign {campaign.Key}", Groups: e.ToArray())).ToList();
            HashSet<string> known = [.. own.Select(o => o.Groups[0][0].Ecosystem!)];
            ReplicateEvidence[][] all = [.. campaign], rest = [.. all.Where(g => g[0].Ecosystem is not { } e || !known.Contains(e))];

            var parts = own.Select(o => (o.Of, Reference: o.Groups, Judged: o.Groups)).ToList();
            if (rest.Length > 0)
                parts.Add(($"campaign {campaign.Key}", all, rest));
            var found = new (IReadOnlyList<Flag> Flags, int Judged)[parts.Count];
            Parallel.For(0, parts.Count, i => found[i] = Of(parts[i].Of, parts[i].Reference, parts[i].Judged, options));
            flags.AddRange(found.SelectMany(f => f.Flags));
            judged += found.Sum(f => f.Judged);
        }

        return (flags, judged);
    }

    private static (IReadOnlyList<Flag> Flags, int Judged) Of(string where, ReplicateEvidence[][] reference, ReplicateEvidence[][] judged, FlagOptions options)
    {
        IReadOnlyList<Replicate>[] pairs = [.. reference.Select(g => (IReadOnlyList<Replicate>)[.. g.Select(r => r.Pair)])];
        if (ReplicateScatter.Of(pairs, options.MultivariateOutlierLevel).Value is not { } scatter)
            return ([], 0);
        HashSet<ReplicateEvidence[]> asked = [.. judged];
        return (
        [
            .. scatter.Apart.Where(a => asked.Contains(reference[a.Group])).Select(a =>
            {
                ReplicateEvidence burial = reference[a.Group][a.Index];
                return FlagCatalogue.MultivariateOutlier.Raise(burial.ContributionId, burial.BurialId, string.Create(
                    CultureInfo.InvariantCulture,
                    $"S is {Math.Abs(a.DeviationX):0.000} {(a.DeviationX < 0 ? "below" : "above")} and ln k {Math.Abs(a.DeviationY):0.000} {(a.DeviationY < 0 ? "below" : "above")} the mean of the other {reference[a.Group].Length - 1} burials of the site: robust distance {a.Distance:0.0}, limit {scatter.Limit:0.0}, by the scatter of {scatter.Rows} burials of {where}."),
                    a.Distance, scatter.Limit, "1");
            }),
        ], judged.Sum(g => g.Length));
    }
}
