namespace DecayAtlas.Decomposition.Tests.Mixed;

/// <summary>Burials whose slow litter is at its plateau: k is known only to be at least something.</summary>
public class ValuesAtLeast
{
    private static readonly TestTable Data = TestTable.Read("Mixed", "at-least-data.csv");

    // sums over one-dimensional integrals in R, without the approximation that is tested; provenance in data/README.md
    private static readonly Dictionary<(string Set, string Quantity), double> Reference =
        TestTable.Read("Mixed", "at-least-reference.csv").Rows.ToDictionary(r => (r["set"], r["quantity"]), r => r.Number("value"));

    private static MixedRecord[] Records(string set) =>
    [
        .. Data.Rows.Where(r => r["set"] == set)
            .Select(r => new MixedRecord(r.Number("y"), null, [r["site"]], [1]) { FirstIsAtLeast = r["atleast"] == "1" }),
    ];

    private static Answer<MixedFit> Fit(IReadOnlyList<MixedRecord> records) => MixedModel.Fit(records, [new("site")], 1);

    /// <summary>5, 15 and 40 % of the burials; tolerances are what the approximation gives, in parts of the whole variance and of the
    /// standard error, and of -2 l.</summary>
    [Theory]
    [InlineData("few", 2e-4, 0.005)]
    [InlineData("some", 3e-3, 0.03)]
    [InlineData("many", 5e-3, 0.06)]
    public void Variances_mean_and_likelihood_are_those_of_the_integrals(string set, double tolerance, double ofDeviance)
    {
        MixedFit fit = Fit(Records(set)).Value!;

        double site = Reference[(set, "var.site")], residual = Reference[(set, "var.Residual")], total = site + residual;
        FixedEffect mean = fit.Effect(0, [1]);
        double error = Reference[(set, "se")];
        double[] apart =
        [
            (fit.Components[0].Covariance.First - site) / total, (fit.Components[1].Covariance.First - residual) / total,
            (mean.Value - Reference[(set, "est")]) / error, mean.StandardError / error - 1,
        ];
        Assert.True(apart.All(a => Math.Abs(a) < tolerance), string.Join(", ", apart));
        Assert.Equal(Reference[(set, "reml")], fit.RestrictedDeviance, ofDeviance);
    }

    [Fact]
    public void What_is_at_least_next_to_nothing_says_nothing()
    {
        MixedRecord[] known = [.. Records("some").Where(r => !r.FirstIsAtLeast)];
        MixedFit one = Fit(known).Value!, two = Fit([.. known, known[0] with { First = -9, FirstIsAtLeast = true }]).Value!;

        Assert.Equal(one.RestrictedDeviance, two.RestrictedDeviance, 1e-4);
        Assert.Equal(one.Effect(0, [1]).Value, two.Effect(0, [1]).Value, 1e-5);
        Assert.Equal(1, one.Components[1].Covariance.First / two.Components[1].Covariance.First, 1e-4);
    }

    [Fact]
    public void A_raw_mean_holds_known_values_only()
    {
        MixedRecord[] records = Records("many");
        UnitValue[] sites = [.. Fit(records).Value!.Values("site")];

        Assert.All(sites, s =>
        {
            double[] known = [.. records.Where(r => r.Units[0] == s.Unit && !r.FirstIsAtLeast).Select(r => r.First!.Value)];
            Assert.Equal(known.Length, s.Burials);
            Assert.Equal(known.Length == 0, s.RawMean is null);
            Assert.Equal(known.DefaultIfEmpty().Average(), s.RawMean ?? 0, 1e-12);
        });
    }

    [Fact]
    public void A_group_of_which_all_is_at_least_something()
    {
        MixedRecord[] records = [.. Records("some").Select(r => r with { FixedEffects = [1, r.FirstIsAtLeast ? 1 : 0] })];

        Assert.Equal("All values that tell an effect are known only to be at least something: it has no upper end.",
            Fit(records).Statement!.Sentence);
    }

    [Fact]
    public void Too_few_known_values() => Assert.Equal(
        "There are 2 burials with the first outcome; at least 3 are needed.",
        Fit([.. Records("some").Select((r, i) => r with { FirstIsAtLeast = i > 1 })]).Statement!.Sentence);

    [Fact]
    public void All_known_values_equal() => Assert.Equal(
        "All values of the first outcome are equal, so that their scatter says nothing about uncertainty.",
        Fit([.. Records("some").Select(r => r.FirstIsAtLeast ? r : r with { First = -4 })]).Statement!.Sentence);

    [Fact]
    public void One_site_and_each_burial_a_site()
    {
        Assert.Equal("All burials belong to one site: variance between units can't be told.",
            Fit([.. Records("some").Select(r => r with { Units = ["s"] })]).Statement!.Sentence);
        Assert.Equal("Each site holds one burial only: its variance can't be told from that of burials.",
            Fit([.. Records("some").Select((r, i) => r with { Units = [$"s{i}"] })]).Statement!.Sentence);
    }

    [Fact]
    public void A_mean_of_several_is_never_at_least_something() => Assert.Throws<ArgumentException>(
        () => Fit([.. Records("some").Select(r => r with { FirstIsAtLeast = true, Count = 2 })]));
}
