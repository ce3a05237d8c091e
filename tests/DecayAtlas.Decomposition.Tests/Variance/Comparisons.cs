using FsCheck.Xunit;

namespace DecayAtlas.Decomposition.Tests.Variance;

public class Comparisons
{
    private static GroupValue V(double value, string group, string site) => new(value, group, [site]);

    [Fact]
    public void With_one_value_a_site_it_is_Students_t_test()
    {
        // Student 1908, Biometrika 6:1-25, the two sleep drugs taken as independent groups: R t.test(var.equal = TRUE) gives t = -1.8608,
        // df = 18,
        // p = 0.07919, interval -3.363874 to 0.203874, means 0.75 and 2.33
        double[] one = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0], two = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
        ComparedGroups c = GroupComparison.Of(
            [.. one.Select((x, i) => V(x, "1", $"a{i}")), .. two.Select((x, i) => V(x, "2", $"b{i}"))], ["site"]).Value!;
        FixedEffect d = c.Differences[0].Difference;

        Assert.Empty(c.RandomLevels);
        Assert.Equal(1.58, d.Value, 9);
        Assert.Equal(18, d.DegreesOfFreedom, 6);
        Assert.Equal(0.07919, d.PValue!.Value, 5);
        Assert.Equal(-0.203874, d.Lower95!.Value, 6);
        Assert.Equal(3.363874, d.Upper95!.Value, 6);
    }

    [Fact]
    public void With_both_groups_in_each_site_it_is_the_paired_t_test()
    {
        // the same data as pairs (Student 1908): t = -4.0621, df = 9, p = 0.002833, interval 0.7001142 to 2.4598858
        double[] one = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0], two = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
        FixedEffect d = GroupComparison.Of(
            [.. one.Select((x, i) => V(x, "1", $"s{i}")), .. two.Select((x, i) => V(x, "2", $"s{i}"))],
            ["site"]).Value!.Differences[0].Difference;

        Assert.Equal(9, d.DegreesOfFreedom, 1e-4);
        Assert.Equal(0.002833, d.PValue!.Value, 1e-6);
        Assert.Equal(0.7001142, d.Lower95!.Value, 1e-6);
        Assert.Equal(2.4598858, d.Upper95!.Value, 1e-6);
    }

    [Fact]
    public void Holm_adjusts_as_R_does()
    {
        // R p.adjust(method = "holm")
        Assert.Equal([0.05, 0.08, 0.09, 0.09, 0.09], MultipleComparisons.Holm([0.01, 0.02, 0.03, 0.04, 0.05]), Near);
        Assert.Equal([0.08, 0.004, 0.3, 0.06], MultipleComparisons.Holm([0.04, 0.001, 0.3, 0.02]), Near);
        static bool Near(double x, double y) => Math.Abs(x - y) < 1e-12;
    }

    [Fact]
    public void What_can_not_be_compared_is_said()
    {
        Assert.Contains("belong to one", Why(V(1, "a", "s"), V(2, "a", "t"), V(3, "a", "u")));
        Assert.Contains("has one site only", Why(V(1, "a", "s"), V(2, "a", "s"), V(3, "b", "t"), V(4, "b", "t")));
        Assert.Contains(" are equal", Why(V(1, "a", "s"), V(1, "a", "t"), V(1, "b", "u"), V(1, "b", "v")));
        Assert.Contains(" are equal",
            Why(V(1, "a", "s"), V(1, "a", "s"), V(2, "a", "t"), V(2, "a", "t"), V(3, "b", "u"), V(3, "b", "u"), V(5, "b", "v"),
                V(5, "b", "v")));
        Assert.Contains("are needed", Why(V(1, "a", "s"), V(2, "b", "t")));
        Assert.Contains("A covariate is constant, or repeats", GroupComparison.Of(
            [.. Enumerable.Range(0, 8).Select(i => new GroupValue(i * i, i < 4 ? "a" : "b", [$"s{i}"], [i < 4 ? 1.0 : 2.0]))], ["site"],
            ["x"]).Statement!.Sentence);

        static string Why(params GroupValue[] values) => GroupComparison.Of(values, ["site"]).Statement!.Sentence;
    }

    [Fact]
    public void Variance_says_what_it_can_not_split()
    {
        Assert.Contains("belong to one", Why(["site"], (1, ["s"]), (2, ["s"]), (3, ["s"])));
        Assert.Contains("Each site holds one value only", Why(["site"], (1, ["s"]), (2, ["t"]), (3, ["u"])));
        Assert.Contains("Each site holds one plot only",
            Why(["site", "plot"], (1, ["s", "p"]), (2, ["s", "p"]), (3, ["t", "p"]), (4, ["t", "p"])));
        Assert.Contains(" are equal", Why(["site"], (1, ["s"]), (1, ["s"]), (1, ["t"])));
        Assert.Contains(" are equal", Why(["site"], (1, ["s"]), (1, ["s"]), (2, ["t"]), (2, ["t"])));
        Assert.Contains("are needed", Why(["site"], (1, ["s"])));
        // means closer than chance: the estimate is zero, marked, and not negative (analysis of variance would give -0.5)
        VarianceComponent zero =
            VarianceComponents.Of([new(0, ["s"]), new(1, ["s"]), new(0, ["t"]), new(1, ["t"])], ["site"]).Value!.Components[0];
        Assert.True(zero is { AtZero: true, Variance: 0, ShareLower95: 0 });

        static string Why(string[] levels, params (double Y, string[] Units)[] values) =>
            VarianceComponents.Of([.. values.Select(v => new NestedValue(v.Y, v.Units))], levels).Statement!.Sentence;
    }

    [Fact]
    public void The_interval_of_the_share_covers()
    {
        // 400 simulated trials of 10 sites x 4 burials, true share 0.5: the 95 % profile interval holds it in 92 to 98 %
        int held = 0;
        for (int trial = 0; trial < 400; trial++)
        {
            RandomStream random = new(31, $"share{trial}");
            NestedValue[] values = [.. Enumerable.Range(0, 10).SelectMany(s =>
            {
                double u = random.NextNormalPair().First;
                return Enumerable.Range(0, 4).Select(_ => new NestedValue(u + random.NextNormalPair().First, [$"s{s}"])).ToArray();
            })];
            VarianceComponent site = VarianceComponents.Of(values, ["site"]).Value!.Components[0];
            if (site.ShareLower95 <= 0.5 && 0.5 <= site.ShareUpper95)
                held++;
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{held / 4.0} %");
        Assert.InRange(held / 400.0, 0.92, 0.98);
    }

    [Theory]
    [InlineData(3)]
    [InlineData(6)]
    public void The_interval_of_a_difference_covers(int sitesPerGroup)
    {
        // unbalanced: 1 to 6 burials a site, sites vary as much as burials, true difference 0.5; in 3000 simulations 94.9 % (3 sites a
        // group) and 94.6 % (6)
        int held = 0;
        const int campaigns = 600;
        for (int i = 0; i < campaigns; i++)
        {
            RandomStream random = new((ulong)i, $"difference{sitesPerGroup}");
            GroupValue[] values = [.. Enumerable.Range(0, 2 * sitesPerGroup).SelectMany(s =>
            {
                double u = (s % 2 == 0 ? 0.5 : 0) + 0.3 * random.NextNormalPair().First;
                return Enumerable.Range(0, 1 + random.NextIndex(6))
                    .Select(_ => V(u + 0.3 * random.NextNormalPair().First, s % 2 == 0 ? "b" : "a", $"s{s}")).ToArray();
            })];
            if (GroupComparison.Of(values, ["site"]).Value?.Differences[0].Difference is { Lower95: <= 0.5, Upper95: >= 0.5 })
                held++;
        }

        Assert.InRange(held / (double)campaigns, 0.93, 0.97);
    }

    [Fact]
    public void A_group_that_follows_the_sites_is_not_told_from_them()
    {
        // g0 lies in one site alone and that site holds nothing else: its variance and its group are one thing (R lme4 finds a flat
        // criterion)
        Assert.Contains("can't be told", GroupComparison.Of(
            [V(1.5, "g2", "s0"), V(0, "g2", "s0"), V(1, "g1", "s0"), V(1, "g2", "s0"), V(0.5, "g1", "s0"), V(0.5, "g0", "s1"),
            V(0, "g0", "s1")],
            ["site"]).Statement!.Sentence);
    }

    [Property(MaxTest = 25)]
    public bool Order_changes_nothing_shifts_and_units_carry_through(byte seed)
    {
        RandomStream random = new(seed, "groups");
        GroupValue[] values = [.. Enumerable.Range(0, 24).Select(i => V(
            random.NextNormalPair().First + (i / 3) * 0.3, i / 3 % 2 == 0 ? "a" : "b", $"s{i / 3}"))];
        FixedEffect one = GroupComparison.Of(values, ["site"]).Value!.Differences[0].Difference;
        FixedEffect reversed = GroupComparison.Of([.. values.Reverse()], ["site"]).Value!.Differences[0].Difference;
        FixedEffect scaled =
            GroupComparison.Of([.. values.Select(v => v with { Value = 100 * v.Value + 7 })], ["site"]).Value!.Differences[0].Difference;
        return Math.Abs(one.Value - reversed.Value) < 1e-9 && Math.Abs(one.PValue!.Value - reversed.PValue!.Value) < 1e-9
            && Math.Abs(scaled.Value - 100 * one.Value) < 1e-6
            && Math.Abs(scaled.DegreesOfFreedom - one.DegreesOfFreedom) < 1e-3 * one.DegreesOfFreedom;
    }
}
