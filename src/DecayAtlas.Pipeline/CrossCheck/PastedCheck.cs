using MathNet.Numerics.Distributions;

namespace DecayAtlas.Pipeline.CrossCheck;

/// <summary>
/// Burials of different contributors that agree in all four masses, more often than chance lets two contributions agree. Chance is read
/// from the data: the share of all other pairs of burials of different contributors that agree, so that a common balance and a common
/// litter are allowed for.
/// </summary>
internal sealed record PastedCheck() : FlagDefinition(
    FlagFamily.Copy, "masses-repeated-across", Severity.Note, RecordKind.Burial,
    "All four masses of the burial are those of a burial that another group sent, and so are those of more burials of the two "
    + "contributions than chance allows. One burial was sent by two groups, or numbers were pasted.",
    "balances of 0.01 g or finer; at least 2 burials of the two contributions agree in both initial and both final masses, and so many "
    + "that fewer than pasted_across_level pairs of contributions of the whole atlas would agree so by chance (Poisson, its mean from "
    + "the share of all pairs of burials of different groups that agree). measured: burials that agree; limit: how many chance lets agree.",
    "Look whose burial it is, and write it to the curator, who knows the other group. Where it is yours, change nothing; where it is "
    + "not, take it out or correct it. Until then the burial counts twice, and in the answers without noted records not at all.")
{
    public override bool CastsDoubt => true;

    [Setting("pasted_across_level", "a number of pairs above 0 and at most 1",
        "How many pairs of sound contributions of a whole atlas chance may note as pasted", Above = 0, Most = 1)]
    public double PastedAcrossLevel { get; init; } = 0.01;

    private const int FewestAlike = 2;

    public IReadOnlyList<Flag> Raise(IReadOnlyList<Evidence> evidence)
    {
        (MassEvidence Burial, int Contributor)[] all = [.. evidence.SelectMany((e, i) => e.Masses.Select(m => (m, i)))];
        (MassEvidence A, MassEvidence B)[] agreeing =
        [
            .. from same in all.GroupBy(m => m.Burial.Print)
               from a in same
               from b in same
               where a.Contributor != b.Contributor && string.CompareOrdinal(a.Burial.ContributionId, b.Burial.ContributionId) < 0
               select (a.Burial, b.Burial),
        ];
        Dictionary<string, int> sizes = all.GroupBy(m => m.Burial.ContributionId, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.Count(), StringComparer.Ordinal);
        double perContributor = evidence.Sum(e => (double)e.Masses.Count * e.Masses.Count);
        double pairsOfBurials = ((double)all.Length * all.Length - perContributor) / 2;
        double pairsOfContributions = sizes.Count * (sizes.Count - 1.0) / 2;

        List<Flag> flags = new();
        foreach ((MassEvidence A, MassEvidence B)[] pairs in agreeing.GroupBy(p => (First: p.A.ContributionId, Second: p.B.ContributionId))
            .OrderBy(g => g.Key.First, StringComparer.Ordinal).ThenBy(g => g.Key.Second, StringComparer.Ordinal).Select(g => g.ToArray()))
        {
            int burials = Math.Min(pairs.DistinctBy(p => p.A.BurialId).Count(), pairs.DistinctBy(p => p.B.BurialId).Count());
            // the pair itself is no measure for chance; one more, since none seen does not mean none possible
            double byChance = (agreeing.Length - pairs.Length + 1) / pairsOfBurials
                * sizes[pairs[0].A.ContributionId] * sizes[pairs[0].B.ContributionId];
            double expected = pairsOfContributions * (1 - Poisson.CDF(byChance, burials - 1));
            if (burials < FewestAlike || !(expected < PastedAcrossLevel))
                continue;
            foreach ((MassEvidence a, MassEvidence b) in pairs)
            {
                flags.Add(Of(a, b));
                flags.Add(Of(b, a));
            }

            Flag Of(MassEvidence burial, MassEvidence twin) => FlagOn(burial.ContributionId, burial.BurialId, new(string.Create(
                InvariantCulture,
                $"All four masses are those of burial {twin.BurialId} of contribution {twin.ContributionId}, which another group sent; "
                + $"{burials} burials of the two contributions agree, and chance lets {byChance:0.####} agree."),
                burials, byChance, "1"));
        }

        return flags;
    }
}
