namespace DecayAtlas.Pipeline.Tests;

public class PhysicalAndProtocolFlags
{
    [Fact]
    public void A_sound_contribution_raises_nothing() => Assert.Empty(Given.Flagged(Given.Contribution()));

    public static TheoryData<string, BagRow> FastBagFaults => new()
    {
        { "mass-gain Bag b-f", Given.FastBag with { MassFinalGrams = 2.40 } },
        { "mass-gain-within-weighing Bag b-f", Given.FastBag with { MassFinalGrams = 2.251, BalanceResolutionGrams = 0.01 } },
        { "loss-exceeds-litter Bag b-f", Given.FastBag with { MassFinalGrams = 0.20 } },
        { "retrieved-before-buried Bag b-f", Given.FastBag with { RetrievedOn = new(2024, 3, 1) } },
        { "retrieved-in-future Bag b-f", Given.FastBag with { RetrievedOn = new(2030, 7, 1) } },
        { "exposure-short Bag b-f", Given.FastBag with { RetrievedOn = new(2024, 5, 30) } },
        { "exposure-long Bag b-f", Given.FastBag with { RetrievedOn = new(2024, 7, 31) } },
        { "depth-out-of-range Bag b-f", Given.FastBag with { DepthCentimetres = 80 } },
        { "unused-material-no Bag b-f", Given.FastBag with { UnusedMaterial = false } },
        { "balance-coarse Bag b-f", Given.FastBag with { BalanceResolutionGrams = 0.1 } },
        { "balance-unstated Bag b-f", Given.FastBag with { BalanceResolutionGrams = null } },
        { "bag-damaged Bag b-f", Given.FastBag with { Condition = BagCondition.Torn } },
        { "bag-damaged Bag b-f", Given.FastBag with { Condition = BagCondition.Roots } },
        { "bag-lost Bag b-f", Given.FastBag with { Condition = BagCondition.Lost, MassFinalGrams = null } },
        { "role-differs-from-lot Bag b-f", Given.FastBag with { LotId = "L1" } },
        { "mass-initial-off-nominal Bag b-f", Given.FastBag with { MassInitialGrams = 2.551, MassFinalGrams = 1.0 } },
        { "drying-not-oven Bag b-f", Given.FastBag with { Drying = Drying.Air } },
        { "dried-and-moist Bag b-f", Given.FastBag with { MoistureInitialFraction = 0.06 } },
        { "dried-and-moist Bag b-f", Given.FastBag with { Drying = Drying.Freeze, MoistureFinalFraction = 0.5 } },
        { "ash-vanished Bag b-f", Given.FastBag with { AshFraction = 0 } },
        { "pair-plots-differ Burial b", Given.FastBag with { Plot = "B" } },
        { "pair-plots-differ Burial b", Given.FastBag with { Treatment = "warmed" } },
        { "pair-dates-differ Burial b", Given.FastBag with { BuriedOn = new(2024, 4, 2) } },
        { "fast-loss-beyond-hydrolysable Burial b", Given.FastBag with { MassFinalGrams = 0.30 } },
    };

    [Theory]
    [MemberData(nameof(FastBagFaults))]
    public void Each_fault_of_a_bag_raises_its_flag(string expected, BagRow fault) =>
        Assert.Contains(expected, Given.Flagged(Given.Contribution(bags: [fault, Given.SlowBag])));

    public static TheoryData<BagRow> JustWithinLimits =>
    [
        Given.FastBag with { RetrievedOn = new(2024, 5, 31) },      // 60 days
        Given.FastBag with { RetrievedOn = new(2024, 7, 30) },      // 120 days
        Given.FastBag with { DepthCentimetres = 6 },
        Given.FastBag with { DepthCentimetres = 10 },
        Given.FastBag with { BalanceResolutionGrams = 0.05 },
        Given.FastBag with { MassInitialGrams = 2.55 },             // nominal 2.0 + tolerance 0.3 + tare 0.25
        Given.FastBag with { MassInitialGrams = 1.95 },
        Given.FastBag with { MoistureFinalFraction = 0.02 },
    ];

    [Theory]
    [MemberData(nameof(JustWithinLimits))]
    public void A_value_on_the_limit_is_within_it(BagRow bag)
    {
        BagRow slow = Given.SlowBag with { RetrievedOn = bag.RetrievedOn };
        Assert.Empty(Given.Flagged(Given.Contribution(bags: [bag, slow])));
    }

    [Fact]
    public void A_slow_bag_at_its_plateau_is_flagged_on_the_burial() => Assert.Contains(
        "slow-loss-at-plateau Burial b",
        Given.Flagged(Given.Contribution(bags: [Given.FastBag, Given.SlowBag with { MassFinalGrams = 1.0 }])));

    /// <summary>k 0.003, S 0.25, 60 days, the fast litter eight times as fast, H 0.842 and 0.552 (worked by hand): the fast bag loses
    /// 0.842 · 0.75 · (1 - exp(-1.44)) = 0.48188, the slow one 0.552 · 0.75 · (1 - exp(-0.18)) = 0.068198 of 2 g.</summary>
    [Fact]
    public void A_fast_litter_short_of_its_plateau_is_flagged_with_what_it_does_to_S_and_k()
    {
        BagRow fast = Given.FastBag with { MassInitialGrams = 2.25, MassFinalGrams = 1.28624, RetrievedOn = new(2024, 5, 31) };
        BagRow slow = Given.SlowBag with { MassInitialGrams = 2.25, MassFinalGrams = 2.113604, RetrievedOn = new(2024, 5, 31) };

        FlagInputs inputs = Given.Inputs(Given.Contribution(bags: [fast, slow]));
        Flag flag = FlagStep.Run(inputs, DecisionList.None).Flags.Single(f => f.Code == SeriesUse.PlateauNotReached);

        Assert.Equal("After 60 days the fast litter had reached about 0.76 of its plateau: S comes out 0.428 for 0.250, and k 0.00405 for "
            + "0.00300 per day.", flag.Explanation);
        Assert.Equal((RecordKind.Burial, Severity.Suspect, 0.9), (flag.Record.Kind, flag.Severity, flag.Limit!.Value));
        Assert.DoesNotContain(Given.Flagged(inputs with { Flags = Given.With(new PlateauNotReached { ShareMin = 0 }) }),
            f => f.StartsWith(SeriesUse.PlateauNotReached, StringComparison.Ordinal));
        // the bags lay long enough by days, and are good points of a curve
        Assert.Equal(Verdict.Accepted, FlagStep.Run(inputs, DecisionList.None).Verdicts.Of(inputs.Bags[0]));
    }

    /// <summary>H 0.842 and 0.552, 91 days, 2 g: the fast bag lost 0.842 (1 - S), the slow one 0.552 (1 - S)(1 - exp(-91 k)). At S 0.9 or
    /// 0.7 a k of 0 may be one at which the fast litter is still on its way; at S 0.25 no k near 0 explains what the fast litter lost, and
    /// it is the slow bag that is odd.</summary>
    [Theory]
    [InlineData(0.9, 0.0, true)]
    [InlineData(0.9, -0.0002, true)]
    [InlineData(0.9, 0.0002, true)]
    [InlineData(0.7, 0.0, true)]
    [InlineData(0.25, 0.0, false)]
    [InlineData(0.25, -0.0002, false)]
    [InlineData(0.25, 0.01, false)]
    public void A_slow_litter_that_lost_nothing_leaves_S_unknown_where_little_of_the_fast_one_is_gone(double s, double k, bool isFlagged)
    {
        BagRow Bag(BagRow bag, double loses) => bag with { MassInitialGrams = 2.25, MassFinalGrams = 0.25 + 2 * (1 - loses) };
        FlagInputs inputs = Given.Inputs(Given.Contribution(bags:
        [
            Bag(Given.FastBag, 0.842 * (1 - s)), Bag(Given.SlowBag, 0.552 * (1 - s) * (1 - Math.Exp(-91 * k))),
        ]));

        FlagStep.Output flagged = FlagStep.Run(inputs, DecisionList.None);

        Assert.Equal(isFlagged, flagged.Flags.Any(f => f.Code == SeriesUse.PlateauNotReached));
        Assert.Equal(isFlagged ? Use.Suspect : Use.Accepted, flagged.Verdicts.Of(inputs.Burials[0]).Use);
    }

    [Fact]
    public void Gross_masses_without_tare_are_flagged_and_litter_masses_are_not()
    {
        LotRow bare = Given.FastLot with { TareGrams = null };
        Assert.Contains("tare-missing Bag b-f", Given.Flagged(Given.Contribution(fastLot: bare)));
        Assert.DoesNotContain("tare-missing Bag b-f",
            Given.Flagged(
                Given.Contribution(fastLot: bare,
                    bags: [Given.FastBag with { MassBasis = MassBasis.Litter, MassInitialGrams = 2, MassFinalGrams = 0.7 },
                        Given.SlowBag])));
    }

    [Fact]
    public void Ash_of_a_bag_is_of_no_use_without_that_of_its_lot() => Assert.Contains("ash-without-lot-ash Bag b-f", Given.Flagged(
        Given.Contribution(fastLot: Given.FastLot with { AshFraction = null },
            bags: [Given.FastBag with { AshFraction = 0.1 }, Given.SlowBag])));

    /// <summary>0.35 of the litter remains with a third of the lot's ash share: 0.117 of its ash. With u(A) 0.005 at both ends
    /// u = √((0.35·0.005/0.05)² + (0.117·0.1)² + ...) = 0.037, so that up to 0.19 can be so; two thirds of it, 0.233 and 0.31,
    /// (worked by hand).</summary>
    [Theory]
    [InlineData(0.05 / 3, true)]
    [InlineData(0.10 / 3, false)]
    public void Ash_that_leaching_does_not_explain_is_missed(double ash, bool isMissed) => Assert.Equal(isMissed, Given.Flagged(
        Given.Contribution(bags: [Given.FastBag with { AshFraction = ash }, Given.SlowBag])).Contains("ash-vanished Bag b-f"));

    [Fact]
    public void A_moisture_that_was_measured_makes_up_for_the_oven() => Assert.Empty(Given.Flagged(
        Given.Contribution(bags: [Given.FastBag with { Drying = Drying.Air, MoistureFinalFraction = 0.06 }, Given.SlowBag])));

    [Fact]
    public void Fractions_of_a_lot_that_come_to_more_than_the_litter_give_no_k()
    {
        LotRow slow = Given.SlowLot with
        {
            HydrolysableParts = HydrolysableParts.AcidSoluble,
            WaterSolubleFraction = 0.3,
            NonpolarFraction = 0.2,
        };
        FlagInputs inputs = Given.Inputs(Given.Contribution(slowLot: slow));
        Assert.Equal(MissingReason.ChemistryImpossible, inputs.Burials[0].RatePerDay.Reason);
        Assert.Contains("chemistry-impossible Bag b-s", Given.Flagged(inputs));
        // 0.552 + 0.3 + 0.098 + 0.05 of ash are all of it
        Assert.DoesNotContain("chemistry-impossible Bag b-s",
            Given.Flagged(Given.Contribution(slowLot: slow with { NonpolarFraction = 0.098 })));
    }

    [Fact]
    public void Bags_at_two_sites_are_no_pair()
    {
        Contribution two = Given.Contribution() with
        {
            Sites = [Given.Site, Given.Site with { Row = 3, SiteId = "S2" }],
            Bags = [Given.FastBag, Given.SlowBag with { SiteId = "S2" }],
        };
        Assert.Equal(["pair-sites-differ Burial b"], Given.Flagged(two));
    }

    [Fact]
    public void A_burial_without_its_pair_is_flagged() =>
        Assert.Contains("pair-incomplete Burial b", Given.Flagged(Given.Contribution(bags: [Given.FastBag])));

    [Fact]
    public void The_as_of_day_bounds_retrieval_where_a_contribution_has_no_day_of_its_own()
    {
        Contribution undated = Given.Contribution(header: Given.Header() with { Created = null });
        FlagInputs inputs = Given.Inputs(undated);
        Assert.Empty(Given.Flagged(inputs));
        Assert.Contains("retrieved-in-future Bag b-f",
            Given.Flagged(inputs with { Flags = Given.With(new RetrievedInFuture { AsOf = new(2024, 6, 1) }) }));
    }

    [Fact]
    public void Every_flag_has_a_page_and_a_code_of_its_own()
    {
        Assert.Equal(FlagCatalogue.All.Count, FlagCatalogue.All.Select(d => d.Code).Distinct().Count());
        Assert.All(FlagCatalogue.All, d => Assert.Matches("^[a-z]+(-[a-z]+)*$", d.Code));
        IEnumerable<Type> declared = typeof(FlagDefinition).Assembly.GetTypes()
            .Where(t => !t.IsAbstract && t.IsSubclassOf(typeof(FlagDefinition)));
        Assert.Equal(declared.Select(t => t.Name).Order(StringComparer.Ordinal), FlagCatalogue.All.Select(d => d.GetType().Name)
            .Order(StringComparer.Ordinal));
    }
}
