using FsCheck.Xunit;

namespace DecayAtlas.Decomposition.Tests.Uncertainty;

public class SiteIntervals
{
    private static SiteBurial B(double value, double lot = 0, string? plot = null, string key = "f") =>
        new(value, new SharedPart(new(key, "s", "b", "b"), new SharedErrors(new(Hydrolysable: lot), default)), plot);

    [Fact]
    public void Without_lot_uncertainty_it_is_the_t_interval_of_the_dyestuff_batch()
    {
        // Davies and Goldsmith 1972, batch A: mean 1505, sd 63.0476, t(0.975, 4) = 2.776445 (Student's table)
        SiteMean m = SiteInterval.Of([B(1545), B(1440), B(1440), B(1520), B(1580)]).Value!;

        Assert.Equal(4, m.DegreesOfFreedom, 9);
        Assert.Equal(1505 - 2.776445 * 63.047601 / Math.Sqrt(5), m.Lower95, 3);
    }

    [Fact]
    public void The_factor_lies_between_t_and_z_and_degrees_of_freedom_follow_Welch_and_Satterthwaite()
    {
        // s²/n = 1 with 4 degrees of freedom (values ±√5/√(…)), C = 1: ν = (1 + 1)² / (1²/4) = 16
        double d = Math.Sqrt(5 * 4 / 10.0);     // values -2d -d 0 d 2d have variance 2.5 d² = 5, so s²/5 = 1
        double[] x = [-2 * d, -d, 0, d, 2 * d];
        SiteMean m = SiteInterval.Of([.. x.Select(v => B(v, 1))]).Value!;

        Assert.Equal(16, m.DegreesOfFreedom, 9);
        // t(0.975, 4) = 2.776445 and z = 1.959964 (tables); half the variance is from five values: g = 1 - (1 - 0.5²)^1.15625 = 0.282966
        Assert.Equal(Math.Sqrt(2) * (1.959964 + 0.282966 * (2.776445 - 1.959964)), m.Upper95, 5);
    }

    [Fact]
    public void Burials_of_one_plot_count_as_one_replicate()
    {
        SiteMean m = SiteInterval.Of([B(1, 0, "p"), B(3, 0, "p"), B(5, 0, "q"), B(7, 0, "q"), B(8, 0, "r")]).Value!;

        Assert.Equal(ReplicationUnit.Plot, m.Unit);
        Assert.Equal(3, m.Units);
        Assert.Equal((2 + 6 + 8) / 3.0, m.Mean, 12);
    }

    [Fact]
    public void What_can_not_be_known_is_said()
    {
        Assert.Contains("are needed", SiteInterval.Of([B(1)]).Statement!.Sentence);
        Assert.Contains(" are equal", SiteInterval.Of([B(1), B(1), B(1)]).Statement!.Sentence);
        Assert.Contains("not a finite number", SiteInterval.Of([B(1), B(double.NaN)]).Statement!.Sentence);
        Assert.Contains("are needed", SiteBootstrap.Of([B(1), B(2)], new()).Statement!.Sentence);
        Assert.Equal("There are 1 burials with a value at the site; at least 2 are needed.", SiteInterval.Of([B(1)]).Statement!.Sentence);
    }

    [Fact]
    public void The_bootstrap_agrees_with_the_standard_error_it_must_tend_to()
    {
        // the bootstrap standard error of a mean is √((n-1)/n) s/√n (Efron and Tibshirani 1993, eq. 5.12), lot uncertainty in squares on
        // top
        double[] x = [3, 5, 8, 2, 9, 4, 7, 6, 5, 1];
        double s = SampleSummary.Of(x)!.Sd!.Value;
        BootstrapInterval b = SiteBootstrap.Of([.. x.Select(v => B(v, 0.5))], new(40_000, 2)).Value!;

        Assert.Equal(Math.Sqrt(0.9 * s * s / 10 + 0.25), b.Uncertainty, 0.01);
    }

    [Property(MaxTest = 50)]
    public bool Order_changes_nothing(int seed, byte count)
    {
        RandomStream random = new((ulong)seed);
        SiteBurial[] burials = [.. Enumerable.Range(0, 8 + count % 5).Select(i => B(random.NextUniform(), 0.1, null, "f" + i % 2))];
        SiteBurial[] reversed = [.. burials.Reverse()];
        return SiteInterval.Of(burials).Value == SiteInterval.Of(reversed).Value
            && SiteBootstrap.Of(burials, new(200)).Value == SiteBootstrap.Of(reversed, new(200)).Value;
    }

    [Property(MaxTest = 50)]
    public bool Units_scale(int seed)
    {
        RandomStream random = new((ulong)seed);
        double[] x = [.. Enumerable.Range(0, 5).Select(_ => random.NextUniform())];
        SiteMean one = SiteInterval.Of([.. x.Select(v => B(v, 0.1))]).Value!;
        SiteMean thousand = SiteInterval.Of([.. x.Select(v => B(1000 * v, 100))]).Value!;
        return Math.Abs(thousand.Lower95 - 1000 * one.Lower95) < 1e-7 && Math.Abs(thousand.DegreesOfFreedom - one.DegreesOfFreedom) < 1e-8;
    }

    [Property(MaxTest = 50)]
    public bool Uncertainty_grows_with_that_of_the_lot(int seed, byte a)
    {
        RandomStream random = new((ulong)seed);
        double[] x = [.. Enumerable.Range(0, 5).Select(_ => random.NextUniform())];
        double lot = a / 100.0;
        return SiteInterval.Of([.. x.Select(v => B(v, lot))]).Value!.Uncertainty
             < SiteInterval.Of([.. x.Select(v => B(v, lot + 0.1))]).Value!.Uncertainty;
    }

    [Property(MaxTest = 100)]
    public bool The_uncertainty_of_k_grows_with_that_of_each_input(byte which, byte a, byte b)
    {
        LitterLot fast = new(0.842, 0.01, 0.05, 0.004, 0.25, 0.004), slow = new(0.552, 0.01, 0.04, 0.004, 0.25, 0.004);
        MeasurementAssumptions assumed = new() { AshFractionSd = 0.003 };
        double days = 0.4, resolution = 0.01;
        double before = U();
        switch (which % 9)
        {
            case 0: fast = fast with { HydrolysableFractionSd = 0.02 }; break;
            case 1: slow = slow with { HydrolysableFractionSd = 0.02 }; break;
            case 2: fast = fast with { AshFractionSd = 0.01 }; break;
            case 3: slow = slow with { AshFractionSd = 0.01 }; break;
            case 4: fast = fast with { TareSdGrams = 0.01 }; break;
            case 5: slow = slow with { TareSdGrams = 0.01 }; break;
            case 6: assumed = assumed with { AshFractionSd = 0.01 }; break;
            case 7: days = 1; break;
            default: resolution = 0.1; break;
        }

        return U() > before;

        double U()
        {
            RemainingFraction f =
                RemainingFraction.Of(new BagWeighing(2.25, 0.75 + a / 500.0, MassBasis.Gross, 0.1, resolution), fast, assumed).Value!;
            RemainingFraction s =
                RemainingFraction.Of(new BagWeighing(2.25, 2.0 + b / 2000.0, MassBasis.Gross, 0.05, resolution), slow, assumed).Value!;
            return RateAndStabilisation.Of(f, s, new Exposure(90, days)).Value!.RatePerDay.Uncertainty;
        }
    }
}
