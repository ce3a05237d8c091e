namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>The signed effect of one standard uncertainty of a shared quantity on ln k and on S.</summary>
public readonly record struct SharedEffect(SharedQuantity Quantity, double OnLnRate, double OnStabilisation);

/// <summary>A burial's S, and its k where there is one above 0.</summary>
public readonly record struct KnownBurial(Estimate Stabilisation, SharedKeys Keys, RatedBurial? Rated);

/// <summary>
/// What is known of the errors of ln k (k in d⁻¹) and S of burials of one site and campaign that belong to the same lots and batches: a
/// burial's own variances and covariance, and what it shares.
/// </summary>
/// <remarks>All made for one k, the mean of its place, and averaged over the burials: what a burial's own k gives grows with it, near the
/// plateau without bound, so that weights made of it would favour low rates.</remarks>
public sealed record KnownErrors(
    double LnRateVariance, double Covariance, double StabilisationVariance, IReadOnlyList<SharedEffect> Shared)
{
    /// <param name="burials">At least one, all with the same keys.</param>
    /// <param name="ratePerDay">k of the place (d⁻¹); missing where no burial has one.</param>
    public static KnownErrors Of(IReadOnlyCollection<KnownBurial> burials, double? ratePerDay)
    {
        SortedDictionary<SharedQuantity, (double OnLnRate, double OnStabilisation)> shared = new();
        KnownBurial[] rated = [.. burials.Where(b => b.Rated is not null)];
        double lnRate = 0, covariance = 0;
        foreach (KnownBurial b in rated)
        {
            LossContrast contrast = new(b.Rated!.Fast, b.Rated.Slow, b.Rated.Exposure);
            (double ofLnRate, double ofBoth, _) = contrast.BagErrors(ratePerDay!.Value);
            lnRate += ofLnRate / rated.Length;
            covariance += ofBoth / rated.Length;
            Add(new SharedPart(b.Keys, contrast.LogRateErrors(ratePerDay.Value)), 1.0 / rated.Length, 0);
        }

        foreach (KnownBurial b in burials)
            Add(new SharedPart(b.Keys, b.Stabilisation.Shared), 0, 1.0 / burials.Count);
        return new KnownErrors(
            lnRate, covariance, burials.Average(b => b.Stabilisation.UncertaintyBag * b.Stabilisation.UncertaintyBag), EffectsOf(shared));

        void Add(SharedPart part, double onLnRate, double onStabilisation)
        {
            foreach ((SharedQuantity quantity, double effect) in part.Effects)
            {
                (double first, double second) = shared.GetValueOrDefault(quantity);
                shared[quantity] = (first + onLnRate * effect, second + onStabilisation * effect);
            }
        }
    }

    /// <summary>What means that stand for burials share; their own scatter is told apart from them.</summary>
    public static KnownErrors OfMeans(SharedKeys keys, SharedErrors? lnRate, SharedErrors? stabilisation)
    {
        SortedDictionary<SharedQuantity, (double OnLnRate, double OnStabilisation)> shared = new();
        foreach ((SharedQuantity quantity, double effect) in new SharedPart(keys, lnRate ?? default).Effects)
            shared[quantity] = (shared.GetValueOrDefault(quantity).OnLnRate + effect, 0);
        foreach ((SharedQuantity quantity, double effect) in new SharedPart(keys, stabilisation ?? default).Effects)
        {
            (double first, double second) = shared.GetValueOrDefault(quantity);
            shared[quantity] = (first, second + effect);
        }

        return new KnownErrors(0, 0, 0, EffectsOf(shared));
    }

    private static SharedEffect[] EffectsOf(SortedDictionary<SharedQuantity, (double OnLnRate, double OnStabilisation)> shared) =>
        [.. shared.Where(s => s.Value != (0, 0)).Select(s => new SharedEffect(s.Key, s.Value.OnLnRate, s.Value.OnStabilisation))];
}
