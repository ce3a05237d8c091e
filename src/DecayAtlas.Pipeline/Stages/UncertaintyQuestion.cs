namespace DecayAtlas.Pipeline.Stages;

/// <summary>One burial: first order, and the interval of the release, beside the distribution propagated.</summary>
/// <param name="Released">Also where the slow litter is at its plateau.</param>
/// <param name="MissingBecause">Why there is no k.</param>
public sealed record BurialUncertainty(string BurialId, string SiteId, RateAndStabilisation? FirstOrder, RateInterval? Released,
    BurialDraws? Drawn, string? MissingBecause);

/// <summary>Mean of ln k (k in d⁻¹) of one site under one treatment: the interval of the release beside the bootstrap, each or why there is
/// none.</summary>
/// <param name="Burials">Those with a k above 0.</param>
/// <param name="NotPositive">Those whose k is 0 or negative, which ln k leaves out.</param>
/// <param name="AtPlateau">Those without k because the slow litter is at its plateau.</param>
public sealed record SiteUncertainty(string SiteId, string? Treatment, int Burials, int NotPositive, int AtPlateau, SiteMean? Interval,
    BootstrapInterval? Bootstrap, string? NoInterval, string? NoBootstrap);

/// <summary>Monte Carlo of every burial and bootstrap of every site of one contribution, as it was sent: no flag sets anything
/// aside.</summary>
public sealed record ContributionUncertainty(IReadOnlyList<BurialUncertainty> Burials, IReadOnlyList<SiteUncertainty> Sites);

/// <summary>How sure a contribution's k and S are, beyond first order.</summary>
public static class UncertaintyQuestion
{
    public static ContributionUncertainty Ask(Contribution contribution, MeasurementAssumptions assumptions, MonteCarloOptions draws,
        int resamples)
    {
        IndexStep.Output index = IndexStep.Run([contribution], assumptions, []);
        Burial[] whole = [.. index.Burials.Where(b => b.Rate.Value is not null)];
        IReadOnlyList<Computed<BurialDraws>> drawn =
            MonteCarlo.Propagate([.. whole.Select(b => InputsOf(b, assumptions))], assumptions, draws);
        Dictionary<string, Computed<BurialDraws>> byBurial = whole.Zip(drawn)
            .ToDictionary(x => x.First.BurialId, x => x.Second, StringComparer.Ordinal);
        return new ContributionUncertainty(
            [.. index.Burials.Select(b => new BurialUncertainty(
                b.BurialId, b.Lead.Row.SiteId,
                b.Rate.Value, b.Weighed.RateInterval, byBurial.TryGetValue(b.BurialId, out Computed<BurialDraws> own) ? own.Value : null,
                (b.Rate.Reason ?? own.Reason)?.Code()))],
            [.. index.Burials.Where(b => b.Rate.Value is not null || b.IsAtPlateau)
                .GroupBy(b => (b.Lead.Row.SiteId, b.Lead.Row.Treatment)).OrderBy(g => g.Key.SiteId, StringComparer.Ordinal)
                .ThenBy(g => g.Key.Treatment, StringComparer.Ordinal)
                .Select(g => SiteOf(g.Key.SiteId, g.Key.Treatment, [.. g], new BootstrapOptions(resamples, draws.Seed)))]);
    }

    private static SiteUncertainty SiteOf(string siteId, string? treatment, Burial[] burials, BootstrapOptions options)
    {
        SiteBurial[] values = RatedBurial.LogRates([.. burials.Where(b => b.HasPositiveRate).Select(b => b.Rated)]);
        int atPlateau = burials.Count(b => b.IsAtPlateau);
        Answer<SiteMean> interval = SiteInterval.Of(values);
        Answer<BootstrapInterval> bootstrap = SiteBootstrap.Of(values, options, $"{siteId}/{treatment}");
        return new SiteUncertainty(siteId, treatment, values.Length, burials.Length - values.Length - atPlateau, atPlateau,
            interval.Value, bootstrap.Value, interval.Statement?.Sentence,
            bootstrap.Statement?.Sentence);
    }

    private static BurialInputs InputsOf(Burial burial, MeasurementAssumptions assumptions) => new(
        burial.BurialId,
        burial.Shared,
        burial.Fast!.Row.Weighing(burial.Fast.Lot, assumptions), burial.Fast.Lot.Litter(),
        burial.Slow!.Row.Weighing(burial.Slow.Lot, assumptions), burial.Slow.Lot.Litter(),
        burial.Weighed.InSoil!.Value);
}
