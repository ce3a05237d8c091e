using System.Globalization;

namespace DecayAtlas.Decomposition.Tests.Mixed;

/// <summary>Campaigns whose truth is made by plain sums: sites of two groups, one to three campaigns each, one to four burials, six lots
/// whose chemistry is off by one amount for all their burials, weighing errors that differ from burial to burial.</summary>
internal sealed class InventedCampaigns
{
    public const double SiteSd = 0.35, CampaignSd = 0.15, BurialSd = 0.2, SecondScale = 0.2;

    public InventedCampaigns(int seed, int sites = 30)
    {
        RandomStream random = new((ulong)seed, "campaign");
        (double, double)[] lots = [.. Enumerable.Range(0, 6).Select(_ => random.NextNormalPair())];
        for (int s = 0; s < sites; s++)
        {
            bool isTreated = s % 5 < 2;
            (double siteK, double siteS) = Pair(SiteSd);
            double k = -4.5 + (isTreated ? 0.3 : 0) + siteK, stable = 0.25 - (isTreated ? 0.04 : 0) + siteS;
            Truth[$"s{s}"] = (k, stable);
            for (int c = 0; c < 1 + random.NextIndex(3); c++)
            {
                (double campaignK, double campaignS) = Pair(CampaignSd);
                int lot = random.NextIndex(6);
                for (int b = 0; b < 1 + random.NextIndex(4); b++)
                {
                    (double burialK, double burialS) = Pair(BurialSd);
                    (double weighingK, double weighingS) = random.NextNormalPair();
                    double sd = 0.05 + 0.15 * random.NextUniform(), onK = 0.06 + 0.3 * sd, onS = -0.03;
                    double errorS = 0.3 * sd * (0.5 * weighingK + Math.Sqrt(0.75) * weighingS);
                    Records.Add(new MixedRecord(
                        k + campaignK + burialK + sd * weighingK + onK * lots[lot].Item1,
                        random.NextIndex(8) == 0 ? null : stable + campaignS + burialS + errorS + onS * lots[lot].Item1,
                        [$"s{s}", $"s{s}c{c}"], [1, isTreated ? 1 : 0])
                    {
                        Error = new OutcomeCovariance(sd * sd, 0.15 * sd * sd, 0.09 * sd * sd),
                        Shared = [new SharedLoading($"lot {lot}", onK, onS)],
                    });
                }
            }
        }

        (double, double) Pair(double sd)
        {
            (double a, double b) = random.NextNormalPair();
            return (sd * a, SecondScale * sd * (-0.4 * a + Math.Sqrt(1 - 0.16) * b));
        }
    }

    /// <summary>The records with eight further errors that lots share and eight that batches of three sites share, each of an effect that
    /// follows from the burial, drawn from a stream of their own.</summary>
    public MixedRecord[] WithManyQuantities(int seed)
    {
        RandomStream random = new((ulong)seed, "quantities");
        Dictionary<string, double> drawn = new(StringComparer.Ordinal);
        return
        [
            .. Records.Select(r =>
            {
                double fast = random.NextUniform(), k = r.First!.Value, stable = r.Second ?? 0;
                string batch = $"batch {int.Parse(r.Units[0]![1..], CultureInfo.InvariantCulture) / 3}";
                List<SharedLoading> shared = [.. r.Shared];
                for (int q = 0; q < 16; q++)
                {
                    string name = $"{(q < 8 ? r.Shared[0].Quantity : batch)} {q}";
                    if (!drawn.TryGetValue(name, out double e))
                        drawn[name] = e = random.NextNormalPair().Item1;
                    double onK = 0.04 * Math.Cos(q + fast * (1 + q % 3)), onS = 0.01 * Math.Sin(q + fast);
                    (k, stable) = (k + onK * e, stable + onS * e);
                    shared.Add(new SharedLoading(name, onK, onS));
                }

                return r with { First = k, Second = r.Second is null ? null : stable, Shared = shared };
            }),
        ];
    }

    public static MixedFactor[] Factors => [new("site"), new("campaign at site")];

    public List<MixedRecord> Records { get; } = new();

    /// <summary>ln k and S of each site, without what campaigns, lots and weighings add.</summary>
    public Dictionary<string, (double First, double Second)> Truth { get; } = new(StringComparer.Ordinal);
}
