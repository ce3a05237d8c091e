using System.Collections.Concurrent;

namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>How many draws, from which seed.</summary>
/// <param name="Draws">Monte Carlo draws a burial, M (JCGM 101:2008, 7.2: 10⁴ gives a 95 % interval to about two digits).</param>
/// <param name="Seed">Same seed and same burial key: same draws.</param>
public sealed record MonteCarloOptions(int Draws = 10_000, ulong Seed = 1);

/// <summary>What the draws of one quantity look like, those for which it exists.</summary>
/// <param name="Lower95">2.5 % end of the probabilistically symmetric 95 % coverage interval (JCGM 101:2008, 7.7).</param>
/// <param name="Upper95">97.5 % end; missing where more than 2.5 % of the draws of k have no upper bound.</param>
public sealed record DrawnQuantity(double Mean, double Uncertainty, double Lower95, double? Upper95);

/// <summary>Monte Carlo result of one burial.</summary>
/// <param name="Covariance">Of k and S over the draws in which both exist (d⁻¹).</param>
/// <param name="ShareUndefined">Share of the draws in which k does not exist.</param>
public sealed record BurialDraws(
    string BurialKey, DrawnQuantity RatePerDay, DrawnQuantity StabilisationFactor, double Covariance, double ShareUndefined);

/// <summary>
/// Propagation of distributions (JCGM 101:2008) through the two-litter equations.
/// </summary>
/// <remarks>
/// Readings of a balance of resolution d: rectangular of width d (6.4.2), and so is water of which only a range is known. Tare of a
/// single bag, its ash, other water, the balance's offset and all of the lot: Gaussian (6.4.7). Exposure: two rectangular dates, together
/// triangular (6.4.5). Draw i of a lot or batch is the same number for every burial that names it, so that averaging draw by draw over
/// burials keeps what they share. Draws in which the slow litter would be at its plateau count as k above every number.
/// Each burial's stream depends on seed and key alone: neither order nor threads change a result.
/// </remarks>
public static class MonteCarlo
{
    /// <summary>Propagates each burial; results in the order asked, on all cores.</summary>
    public static IReadOnlyList<Computed<BurialDraws>> Propagate(
        IReadOnlyList<BurialInputs> burials, MeasurementAssumptions assumptions, MonteCarloOptions options)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(options.Draws, 40);
        Computed<BurialDraws>[] results = new Computed<BurialDraws>[burials.Count];
        SharedDraws shared = new(options);
        Parallel.For(
            0,
            burials.Count,
            () => (Rates: new double[options.Draws], Factors: new double[options.Draws]),
            (i, _, buffers) =>
            {
                results[i] = Draw(burials[i], assumptions, options, shared, buffers.Rates, buffers.Factors) is { } reason
                    ? reason
                    : Summarise(burials[i].BurialKey, buffers.Rates, buffers.Factors);
                return buffers;
            },
            _ => { });
        return results;
    }

    /// <summary>
    /// Fills draws of k (d⁻¹) and S for one burial: k is +∞ where the slow litter would be at its plateau, NaN (with S) where the fast
    /// litter would have lost nothing.
    /// </summary>
    /// <returns>The reason why the burial has no k to begin with; <see langword="null"/> where the draws were made.</returns>
    public static MissingReason? Draw(
        BurialInputs burial, MeasurementAssumptions assumptions, MonteCarloOptions options, Span<double> rates, Span<double> factors) =>
        Draw(burial, assumptions, options, new SharedDraws(options), rates, factors);

    private static MissingReason? Draw(
        BurialInputs burial, MeasurementAssumptions assumptions, MonteCarloOptions options, SharedDraws shared, Span<double> rates,
        Span<double> factors)
    {
        FractionBasis basis = RemainingFraction.BasisOf((burial.FastBag, burial.FastLot), (burial.SlowBag, burial.SlowLot));
        Computed<RemainingFraction> fast = RemainingFraction.Of(burial.FastBag, burial.FastLot, basis, assumptions);
        Computed<RemainingFraction> slow = RemainingFraction.Of(burial.SlowBag, burial.SlowLot, basis, assumptions);
        if ((fast.Reason ?? slow.Reason) is { } noFraction)
            return noFraction;
        if (TwoLitterIndex.RatePerDay(fast.Value!, slow.Value!, burial.Exposure).Reason is { } noRate)
            return noRate;

        RandomStream own = new(options.Seed, "burial/" + burial.BurialKey);
        LotDraw[] fastLot = shared.OfLot("fast-lot/" + burial.Keys.FastLot), slowLot = shared.OfLot("slow-lot/" + burial.Keys.SlowLot);
        BatchDraw[] fastBatch = shared.OfBatch("fast", burial.Keys.FastBatch), slowBatch = shared.OfBatch("slow", burial.Keys.SlowBatch);
        DrawnBag fastBag = new(burial.FastBag, burial.FastLot, basis, assumptions);
        DrawnBag slowBag = new(burial.SlowBag, burial.SlowLot, basis, assumptions);
        Hydrolysable fastH = fast.Value!.Hydrolysable.Value!, slowH = slow.Value!.Hydrolysable.Value!;
        bool anyTare = fastBag.TareSd > 0 || slowBag.TareSd > 0, anyAsh = basis == FractionBasis.AshFree;
        double dateHalfWidth = burial.Exposure.UncertaintyDays * Math.Sqrt(1.5);   // u = a √(2/3)

        for (int i = 0; i < options.Draws; i++)
        {
            (double tareFast, double tareSlow) = anyTare ? own.NextNormalPair() : default;
            (double ashFast, double ashSlow) = anyAsh ? own.NextNormalPair() : default;
            (double, double) fastMasses = fastBag.IsMean ? own.NextNormalPair() : default;
            (double, double) slowMasses = slowBag.IsMean ? own.NextNormalPair() : default;
            double fastLoss = 1 - fastBag.Fraction(own, tareFast, ashFast, fastMasses, fastLot[i], fastBatch[i]);
            double slowLoss = 1 - slowBag.Fraction(own, tareSlow, ashSlow, slowMasses, slowLot[i], slowBatch[i]);
            double days = burial.Exposure.Days + 2 * dateHalfWidth * (own.NextUniform() + own.NextUniform() - 1);
            double hFast = fastH.At(fastLot[i].Hydrolysable, fastLot[i].Ash);
            double hSlow = slowH.At(slowLot[i].Hydrolysable, slowLot[i].Ash);

            if (!(fastLoss > 0) || !(hFast > 0) || !(hSlow > 0) || !(days > 0))
            {
                rates[i] = factors[i] = double.NaN;
                continue;
            }

            factors[i] = 1 - fastLoss / hFast;
            double decomposable = hSlow * fastLoss / hFast, left = decomposable - slowLoss;
            rates[i] = left > 0 ? Math.Log(decomposable / left) / days : double.PositiveInfinity;
        }

        return null;
    }

    /// <summary>The draws of lots and batches, made once for all burials that name them.</summary>
    private sealed class SharedDraws(MonteCarloOptions options)
    {
        private readonly ConcurrentDictionary<string, LotDraw[]> _lots = new(StringComparer.Ordinal);
        private readonly ConcurrentDictionary<string, BatchDraw[]> _batches = new(StringComparer.Ordinal);

        public LotDraw[] OfLot(string name) => _lots.GetOrAdd(name, n => Made(n, stream =>
        {
            (double hydrolysable, double ash) = stream.NextNormalPair();
            (double tare, double moisture) = stream.NextNormalPair();
            return new LotDraw(hydrolysable, ash, tare, moisture);
        }));

        public BatchDraw[] OfBatch(string litter, string batch) => _batches.GetOrAdd($"{litter}-batch/{batch}", n =>
        {
            // a stream of its own, the same for both litters
            RandomStream balance = new(options.Seed, "balance/" + batch);
            return Made(n, stream =>
            {
                (double initial, double final) = stream.NextNormalPair();
                return new BatchDraw(
                    new WaterDraw(initial, stream.NextUniform()), new WaterDraw(final, stream.NextUniform()),
                    balance.NextNormalPair().First);
            });
        });

        private T[] Made<T>(string name, Func<RandomStream, T> draw)
        {
            RandomStream stream = new(options.Seed, name);
            T[] draws = new T[options.Draws];
            for (int i = 0; i < draws.Length; i++)
                draws[i] = draw(stream);
            return draws;
        }
    }

    private static Computed<BurialDraws> Summarise(string key, double[] rates, double[] factors)
    {
        double sumK = 0, sumS = 0, sumSAll = 0;
        int both = 0, withS = 0;
        for (int i = 0; i < rates.Length; i++)
        {
            if (!double.IsNaN(factors[i]))
            {
                withS++;
                sumSAll += factors[i];
            }

            if (double.IsFinite(rates[i]))
            {
                both++;
                sumK += rates[i];
                sumS += factors[i];
            }
        }

        // a burial so near its limit that next to no draw has a k has none
        if (both < 2)
            return MissingReason.SlowLossAtPlateau;
        double meanK = sumK / both, meanS = sumS / both, meanSAll = sumSAll / withS;
        double kk = 0, ss = 0, ks = 0;
        for (int i = 0; i < rates.Length; i++)
        {
            if (!double.IsNaN(factors[i]))
                ss += (factors[i] - meanSAll) * (factors[i] - meanSAll);
            if (double.IsFinite(rates[i]))
            {
                kk += (rates[i] - meanK) * (rates[i] - meanK);
                ks += (rates[i] - meanK) * (factors[i] - meanS);
            }
        }

        return new BurialDraws(
            key,
            Quantity(rates, meanK, Math.Sqrt(kk / (both - 1))),
            Quantity(factors, meanSAll, Math.Sqrt(ss / (withS - 1))),
            ks / (both - 1),
            1 - (double)both / rates.Length);
    }

    // sorts in place; NaN sorts first and is left out, +∞ sorts last and is kept
    private static DrawnQuantity Quantity(double[] draws, double mean, double sd)
    {
        Array.Sort(draws);
        int undefined = 0;
        while (undefined < draws.Length && double.IsNaN(draws[undefined]))
            undefined++;
        int count = draws.Length - undefined;
        int tail = (count - (int)(0.95 * count + 0.5)) / 2;          // JCGM 101:2008, 7.7.2
        double upper = draws[undefined + count - 1 - tail];
        return new DrawnQuantity(mean, sd, draws[undefined + tail], double.IsFinite(upper) ? upper : null);
    }
}
