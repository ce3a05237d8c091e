using FsCheck.Xunit;

namespace DecayAtlas.Decomposition.Tests.Mixed;

/// <summary>What must hold whatever the numbers.</summary>
public class PropertiesOfTheJointModel
{
    private static MixedFit Fit(IReadOnlyList<MixedRecord> records, int outcomes = 2) =>
        MixedModel.Fit(records, InventedCampaigns.Factors, outcomes).Value!;

    [Property(MaxTest = 8)]
    public void The_order_of_the_rows_changes_nothing(byte seed)
    {
        List<MixedRecord> records = new InventedCampaigns(seed, 12).Records;
        RandomStream random = new(seed, "order");
        MixedRecord[] shuffled = [.. records.OrderBy(_ => random.NextBits())];

        MixedFit one = Fit(records), two = Fit(shuffled);

        Assert.Equal(one.RestrictedDeviance, two.RestrictedDeviance);
        Assert.Equal(one.Components, two.Components);
    }

    [Property(MaxTest = 8)]
    public void The_names_of_units_change_nothing(byte seed)
    {
        List<MixedRecord> records = new InventedCampaigns(seed, 12).Records;
        MixedFit one = Fit(records), two = Fit(
            [.. records.Select(r => r with { Units = [.. r.Units.Select(u => new string([.. u!.Reverse()]) + "x")] })]);

        Close(one, two, 1, 1);
        UnitValue[] values = [.. one.Values("site")], renamed = [.. two.Values("site")];
        Assert.All(values, v =>
        {
            UnitValue same = renamed.Single(n => n.Outcome == v.Outcome && n.Unit == new string([.. v.Unit.Reverse()]) + "x");
            Assert.Equal(v.Value, same.Value, 1e-6);
            Assert.Equal(1, v.StandardError / same.StandardError, 1e-4);
        });
    }

    [Property(MaxTest = 8)]
    public void Other_units_of_an_outcome_scale_what_is_found(byte seed)
    {
        List<MixedRecord> records = new InventedCampaigns(seed, 12).Records;
        double a = 1000, b = 0.01;

        MixedFit one = Fit(records), two = Fit([.. records.Select(r => r with
        {
            First = a * r.First,
            Second = b * r.Second,
            Error = new OutcomeCovariance(a * a * r.Error.First, a * b * r.Error.Cross, b * b * r.Error.Second),
            Shared = [.. r.Shared.Select(s => new SharedLoading(s.Quantity, a * s.OnFirst, b * s.OnSecond))],
        })]);

        Close(one, two, a, b);
        Assert.Equal(1, two.Effect(0, [0, 1]).StandardError / one.Effect(0, [0, 1]).StandardError / a, 1e-6);
    }

    [Property(MaxTest = 8)]
    public void Outcomes_that_change_places_keep_what_is_found(byte seed)
    {
        MixedRecord[] records = [.. new InventedCampaigns(seed, 12).Records.Where(r => r.Second is not null)];

        MixedFit one = Fit(records), two = Fit([.. records.Select(r => r with
        {
            First = r.Second,
            Second = r.First,
            Error = new OutcomeCovariance(r.Error.Second, r.Error.Cross, r.Error.First),
            Shared = [.. r.Shared.Select(s => new SharedLoading(s.Quantity, s.OnSecond, s.OnFirst))],
        })]);

        // the search sets a variance to zero where that costs 1e-6 at most, and there are eight
        Assert.Equal(one.RestrictedDeviance, two.RestrictedDeviance, 1e-5);
        foreach ((MixedComponent x, MixedComponent y) in one.Components.Zip(two.Components))
        {
            Assert.Equal(x.Covariance.First, y.Covariance.Second, 1e-6);
            Assert.Equal(x.Covariance.Second, y.Covariance.First, 1e-6);
        }
    }

    [Property(MaxTest = 8)]
    public void A_mean_with_its_sums_of_squares_says_what_its_burials_say(byte seed)
    {
        // the burials of a campaign at a site with one error, one lot's effect and both outcomes
        MixedRecord[] records = [.. new InventedCampaigns(seed, 12).Records.Select(r => r with
        {
            Second = r.Second ?? 0.2,
            Error = new OutcomeCovariance(0.01, 0.001, 0.002),
            Shared = [new SharedLoading(r.Shared[0].Quantity, 0.1, -0.03)],
        })];
        MixedRecord[] means = [.. records.GroupBy(r => r.Units[1]).Select(g =>
        {
            double k = g.Average(r => r.First!.Value), s = g.Average(r => r.Second!.Value);
            return g.First() with
            {
                First = k,
                Second = s,
                Count = g.Count(),
                SumsOfSquares = new OutcomeCovariance(
                    g.Sum(r => Math.Pow(r.First!.Value - k, 2)), g.Sum(r => (r.First!.Value - k) * (r.Second!.Value - s)),
                    g.Sum(r => Math.Pow(r.Second!.Value - s, 2))),
            };
        })];

        MixedFit one = Fit(records), two = Fit(means);

        Close(one, two, 1, 1);
        Assert.Equal(1, one.Effect(0, [0, 1]).DegreesOfFreedom / two.Effect(0, [0, 1]).DegreesOfFreedom, 1e-3);
    }

    [Fact]
    public void A_factor_of_one_outcome_leaves_the_other_alone()
    {
        List<MixedRecord> records = new InventedCampaigns(7).Records;
        MixedFit fit = MixedModel.Fit(records, [new("site"), new("campaign at site", 0)], 2).Value!;

        Assert.True(fit.Components[1].Covariance is { First: > 0, Second: 0, Cross: 0 });
        Assert.Null(fit.VarianceInterval("campaign at site", 1));
    }

    private static void Close(MixedFit one, MixedFit two, double first, double second)
    {
        foreach ((MixedComponent x, MixedComponent y) in one.Components.Zip(two.Components))
        {
            double sd1 = Math.Sqrt(one.Components.Sum(c => c.Covariance.First));
            double sd2 = Math.Sqrt(one.Components.Sum(c => c.Covariance.Second));
            Assert.Equal(0, (y.Covariance.First / (first * first) - x.Covariance.First) / (sd1 * sd1), 1e-5);
            Assert.Equal(0, (y.Covariance.Cross / (first * second) - x.Covariance.Cross) / (sd1 * sd2), 1e-5);
            Assert.Equal(0, (y.Covariance.Second / (second * second) - x.Covariance.Second) / (sd2 * sd2), 1e-5);
        }
    }
}
