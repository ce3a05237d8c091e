using MathNet.Numerics.Statistics;

namespace DecayAtlas.Pipeline.Tests;

public class OutlierFlagTests
{
    /// <summary>One site with a burial for each final mass of the slow litter; the fast bags differ a little, as bags do.</summary>
    private static Contribution SiteOf(params double[] slowFinals) => Given.Contribution(bags:
    [
        .. slowFinals.SelectMany((mass, i) => new[]
        {
            Given.FastBag
                with { Row = (2 * i) + 2, BagId = $"{i:00}-f", BurialId = $"{i:00}", Replicate = $"{i}",
                    MassFinalGrams = 0.950 + (0.001 * i) },
            Given.SlowBag with { Row = (2 * i) + 3, BagId = $"{i:00}-s", BurialId = $"{i:00}", Replicate = $"{i}", MassFinalGrams = mass },
        }),
    ]);

    private static IReadOnlyList<Flag> FlagsOf(Contribution contribution, FlagDefinition? flag = null)
    {
        FlagInputs inputs = Given.Inputs(contribution);
        return FlagStep.Run(flag is null ? inputs : inputs with { Flags = Given.With(flag) }, DecisionList.None).Flags;
    }

    [Fact]
    public void A_burial_far_from_its_replicates_is_suspect_with_score_limit_and_n()
    {
        Contribution site = SiteOf(1.80, 1.81, 1.79, 1.83, 1.82, 1.78, 2.15, 1.84);
        Flag flag = Assert.Single(FlagsOf(site));

        Assert.Equal((new RecordKey("c1", RecordKind.Burial, "06"), "replicate-outlier", Severity.Suspect),
            (flag.Record, flag.Code, flag.Severity));
        Assert.Contains("8 burials", flag.Explanation, StringComparison.Ordinal);
        // Iglewicz and Hoaglin 1993: M = 0.6745 (x - median)/MAD, here over b_n = 1.129 (Croux and Rousseeuw 1992, n = 8)
        double[] lnRates = [.. Given.Inputs(site).Burials.Select(b => Math.Log(b.RatePerDay.Value!.Value))];
        double median = lnRates.Median(), mad = lnRates.Select(x => Math.Abs(x - median)).Median();
        Assert.Equal(0.6745 * Math.Abs(lnRates[6] - median) / (1.129 * mad), flag.Measured!.Value, 0.001 * flag.Measured.Value);
        Assert.Equal(8.54, flag.Limit);     // half of the level of 1 %: Grubbs' test has the other half
    }

    [Fact]
    public void Of_fifteen_or_more_several_outliers_that_hide_one_another_are_found()
    {
        double[] masses = [.. Enumerable.Range(0, 18).Select(i => 1.78 + (0.004 * i)), 2.14, 2.15];
        Flag[] flags = [.. FlagsOf(SiteOf(masses))];
        Assert.Equal(["18", "19"], flags.Select(f => f.Record.RecordId));
        Assert.All(flags, f => Assert.Contains("generalised ESD", f.Explanation, StringComparison.Ordinal));
    }

    [Fact]
    public void Fewer_than_five_burials_are_never_judged() =>
        Assert.Empty(FlagsOf(SiteOf(1.80, 1.81, 1.79, 2.15)));

    [Fact]
    public void Replicates_that_agree_to_the_last_digit_do_not_make_a_step_of_the_balance_an_outlier() =>
        Assert.Empty(FlagsOf(SiteOf(1.80, 1.80, 1.80, 1.80, 1.80, 1.802)));

    [Fact]
    public void The_level_is_a_setting()
    {
        Contribution site = SiteOf(1.80, 1.81, 1.79, 1.83, 1.82, 1.94);
        Assert.Empty(FlagsOf(site));
        // Grubbs' T, one-sided 1.25 %: between 1.887 at 2.5 % and 1.944 at 1 % in ASTM E178, table 1, n = 6
        Assert.InRange(Assert.Single(FlagsOf(site, new ReplicateOutlier { ReplicateOutlierLevel = 0.05 })).Limit!.Value, 1.887, 1.944);
    }

    [Fact]
    public void A_burial_that_another_flag_sets_aside_is_no_measure_for_its_neighbours()
    {
        // counted in, the four torn bags would hide that 2.12 g is alone among the sound ones
        Contribution site = SiteOf(1.80, 1.81, 1.79, 1.83, 1.82, 1.78, 1.84, 1.85, 2.12, 2.11, 2.13, 2.10, 2.14);
        BagRow[] bags = [
            .. site.Bags.Select(b => string.CompareOrdinal(b.BurialId, "09") >= 0 ? b with { Condition = BagCondition.Torn } : b)];
        Assert.Empty(FlagsOf(site));
        Flag flag = Assert.Single(FlagsOf(site with { Bags = bags }), f => f.Code == "replicate-outlier");
        Assert.Equal("08", flag.Record.RecordId);
        Assert.Contains("9 burials", flag.Explanation, StringComparison.Ordinal);
    }

    [Fact]
    public void Another_site_or_treatment_is_no_replicate()
    {
        Contribution site = SiteOf(1.80, 1.81, 1.79, 1.83, 1.82, 2.15);
        BagRow[] bags = [.. site.Bags.Select(b => b.BurialId == "05" ? b with { Treatment = "warmed" } : b)];
        Assert.Empty(FlagsOf(site with { Bags = bags }));
    }

    /// <summary>Twelve sites of three burials, so that no site is judged by its replicates.</summary>
    private static Contribution Readings(Func<int, double> finalGrams) => Given.Contribution() with
    {
        Sites = [.. Enumerable.Range(0, 12).Select(i => Given.Site with { Row = i + 2, SiteId = $"S{i}" })],
        Bags =
        [
            .. Enumerable.Range(0, 36).SelectMany(i => new[]
            {
                Given.FastBag
                    with { BagId = $"{i}-f", BurialId = $"{i}", SiteId = $"S{i / 3}", Replicate = $"{i}",
                        MassFinalGrams = finalGrams(2 * i) },
                Given.SlowBag
                    with { BagId = $"{i}-s", BurialId = $"{i}", SiteId = $"S{i / 3}", Replicate = $"{i}",
                        MassFinalGrams = finalGrams((2 * i) + 1) },
            }),
        ],
    };

    [Fact]
    public void Last_digits_of_nought_and_five_only_are_noted_on_the_contribution()
    {
        Contribution rounded = Readings(i => (i % 2 == 0 ? 0.900 : 1.780) + (0.005 * (i / 2 % 36)));
        Flag flag = Assert.Single(FlagsOf(rounded), f => f.Code == "digit-preference");
        Assert.Equal((new RecordKey("c1", RecordKind.Contribution, "c1"), Severity.Note), (flag.Record, flag.Severity));
        // two digits 36 times each of 72: chi-square = (2 (36 - 7.2)² + 8 · 7.2²)/7.2 = 288; 0.999 point on 9 degrees 27.877 (NIST/SEMATECH
        // e-Handbook 1.3.6.7.4)
        Assert.Equal(288, flag.Measured!.Value, 1e-9);
        Assert.Equal(27.877, flag.Limit!.Value, 0.001);
        Assert.Contains("72 final masses", flag.Explanation, StringComparison.Ordinal);
    }

    [Fact]
    public void Readings_that_end_in_every_digit_and_balances_too_coarse_to_tell_are_not_noted()
    {
        Contribution even = Readings(i => (i % 2 == 0 ? 0.900 : 1.780) + (0.003 * (i / 2)));
        Assert.DoesNotContain(FlagsOf(even), f => f.Code == "digit-preference");
        Contribution coarse = even with { Bags = [.. even.Bags.Select(b => b with { BalanceResolutionGrams = 0.1 })] };
        Assert.DoesNotContain(FlagsOf(coarse), f => f.Code == "digit-preference");
    }
}
