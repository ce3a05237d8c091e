namespace DecayAtlas.Decomposition.Tests.Uncertainty;

/// <summary>
/// How often the 95 % interval of a site holds the truth, by simulating whole campaigns: a true site mean of k, burials scattered about it,
/// a true lot chemistry that differs from the declared one, weighings with tare and balance errors, then k by the product and its interval.
/// </summary>
public class Coverage
{
    private const double TrueK = 0.012, TrueS = 0.25, Days = 90;

    [Theory]
    [InlineData(2, 0.15, 0.010, 0.008)]
    [InlineData(2, 0.25, 0.010, 0.008)]
    [InlineData(2, 0.30, 0.0, 0.0)]
    [InlineData(3, 0.15, 0.010, 0.008)]
    [InlineData(3, 0.30, 0.005, 0.004)]
    [InlineData(3, 0.25, 0.010, 0.008)]
    [InlineData(4, 0.25, 0.010, 0.008)]
    [InlineData(4, 0.15, 0.010, 0.008)]
    [InlineData(4, 0.15, 0.015, 0.015)]
    [InlineData(5, 0.15, 0.010, 0.008)]
    [InlineData(7, 0.25, 0.010, 0.008)]
    [InlineData(8, 0.25, 0.010, 0.008)]
    [InlineData(5, 0.25, 0.010, 0.008)]
    [InlineData(6, 0.15, 0.010, 0.008)]
    [InlineData(10, 0.25, 0.010, 0.008)]
    [InlineData(20, 0.25, 0.010, 0.008)]
    [InlineData(20, 0.15, 0.015, 0.015)]
    public void Of_the_site_interval_lies_between_93_and_97_per_cent(int burials, double scatter, double fastSd, double slowSd)
    {
        double share =
            Share(burials, scatter, fastSd, slowSd, 6000, b => SiteInterval.Of(b).Value is { } m ? (m.Lower95, m.Upper95) : null);
        TestContext.Current.TestOutputHelper!.WriteLine($"n {burials} cover {share:P1}");
        Assert.InRange(share, 0.93, 0.97);
    }

    [Theory]
    [InlineData(8)]
    [InlineData(12)]
    [InlineData(20)]
    public void Of_the_bootstrap_lies_between_93_and_97_per_cent(int burials)
    {
        double share =
            Share(burials, 0.25, 0.010, 0.008, 1500, b => SiteBootstrap.Of(b, new(800)).Value is { } m ? (m.Lower95, m.Upper95) : null);
        TestContext.Current.TestOutputHelper!.WriteLine($"n {burials} cover {share:P1}");
        Assert.InRange(share, 0.93, 0.97);
    }

    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    public void Of_the_Welch_Satterthwaite_interval_is_too_small_and_so_it_is_not_used(int burials)
    {
        double share = Share(burials, 0.15, 0.010, 0.008, 6000, b =>
        {
            SiteMean m = SiteInterval.Of(b).Value!;
            double half = MathNet.Numerics.Distributions.StudentT.InvCDF(0, 1, m.DegreesOfFreedom, 0.975) * m.Uncertainty;
            return (m.Mean - half, m.Mean + half);
        });
        Assert.InRange(share, 0.85, 0.93);
    }

    [Theory]
    [InlineData(4, 3)]
    [InlineData(10, 2)]
    public void Of_plots_is_right_and_of_burials_taken_as_independent_far_too_small(int plots, int burials)
    {
        // plots vary as much as burials within them; Hurlbert 1984 calls the second analysis pseudoreplication
        int held = 0, heldPooled = 0, heldBootstrap = 0;
        const int sites = 1500;
        for (int i = 0; i < sites; i++)
        {
            RandomStream random = new(8, $"nested{plots}/{i}");
            SiteBurial[] values = [.. Enumerable.Range(0, plots).SelectMany(p =>
            {
                double u = random.NextNormalPair().First;
                return Enumerable.Range(0, burials)
                    .Select(_ => new SiteBurial(
                        u + random.NextNormalPair().First, new(new("f", "s", "b", "b"), default), $"p{p}")).ToArray();
            })];
            if (SiteInterval.Of(values).Value is { Lower95: <= 0, Upper95: >= 0 })
                held++;
            if (SiteInterval.Of([.. values.Select(v => v with { Plot = null })]).Value is { Lower95: <= 0, Upper95: >= 0 })
                heldPooled++;
            if (SiteBootstrap.Of(values, new(600)).Value is { Lower95: <= 0, Upper95: >= 0 })
                heldBootstrap++;
        }

        Assert.InRange(held / (double)sites, 0.93, 0.97);
        Assert.True(heldPooled / (double)sites < 0.91);
        if (plots >= SiteBootstrap.FewestUnits)
            Assert.InRange(heldBootstrap / (double)sites, 0.93, 0.97);
    }

    private static double Share(
        int burials, double scatter, double fastSd, double slowSd, int campaigns,
        Func<SiteBurial[], (double Lower, double Upper)?> interval)
    {
        const double tareSd = 0.004, resolution = 0.01;
        LitterLot fast = new(0.842, fastSd, TareGrams: 0.25, TareSdGrams: tareSd),
            slow = new(0.552, slowSd, TareGrams: 0.25, TareSdGrams: tareSd);
        RandomStream random = new(20250101, $"{burials}/{scatter}/{fastSd}");
        int held = 0, given = 0;
        for (int c = 0; c < campaigns; c++)
        {
            (double zf, double zs) = random.NextNormalPair();
            double hFast = 0.842 + fastSd * zf, hSlow = 0.552 + slowSd * zs;
            List<SiteBurial> site = new();
            for (int b = 0; b < burials; b++)
            {
                (double zk, double zS) = random.NextNormalPair();
                double k = TrueK * (1 + scatter * zk), s = TrueS + 0.03 * zS;
                double wf = 1 - hFast * (1 - s), a = hSlow * (1 - s), ws = 1 - a + a * Math.Exp(-k * Days);
                if (Estimate(Bag(wf), Bag(ws)) is { } e)
                    site.Add(SiteBurial.Of(e, new("f", "s", "b", "b")));
            }

            if (interval([.. site]) is { } found)
            {
                given++;
                if (found.Lower <= TrueK && TrueK <= found.Upper)
                    held++;
            }
        }

        Assert.True(given > 0.99 * campaigns);
        return (double)held / given;

        BagWeighing Bag(double w)
        {
            double tare = 0.25 + tareSd * random.NextNormalPair().First, litter = 1.9 + 0.2 * random.NextUniform();
            return new BagWeighing(Read(litter + tare), Read(litter * w + tare), MassBasis.Gross, null, resolution);
        }

        static double Read(double grams) => Math.Round(grams / resolution) * resolution;

        Estimate? Estimate(BagWeighing f, BagWeighing s) => TwoLitterIndex.RatePerDay(
            RemainingFraction.Of(f, fast, MeasurementAssumptions.Default).Value!,
            RemainingFraction.Of(s, slow, MeasurementAssumptions.Default).Value!,
            new Exposure(Days, 0.4)).Value;
    }
}
