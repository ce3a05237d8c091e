using MathNet.Numerics.RootFinding;

namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>
/// What the losses L = 1 - w of one burial say of k, without dividing by any of them: with E = 1 - exp(-k t),
/// <code>
/// h(E) = H_f L_s - H_s L_f E
/// </code>
/// has mean 0 at the true k, and unlike k itself it is made of products of near-normal quantities.
/// </summary>
/// <remarks>Its error is first order (JCGM 100:2008, 5.1.2) in bag, batch and lot, with the signs of what both litters share. Follows from
/// the equations of <see cref="TwoLitterIndex"/>, no other source.</remarks>
internal sealed class LossContrast
{
    private readonly double _hydrolysed, _decomposable, _slowBag, _fastBag, _days, _relativeDays, _stabilisationBag;
    private readonly SharedErrors _alone, _perShare;
    private readonly LitterErrors _relativeFastHydrolysable;

    public LossContrast(RemainingFraction fast, RemainingFraction slow, Exposure exposure)
    {
        Hydrolysable ofFast = fast.Hydrolysable.Value!, ofSlow = slow.Hydrolysable.Value!;
        _hydrolysed = ofFast.Fraction * slow.Loss;
        _decomposable = ofSlow.Fraction * fast.Loss;
        _slowBag = ofFast.Fraction * slow.UncertaintyBag;
        _fastBag = ofSlow.Fraction * fast.UncertaintyBag;
        _days = exposure.Days;
        _relativeDays = exposure.UncertaintyDays / exposure.Days;
        _stabilisationBag = fast.UncertaintyBag / ofFast.Fraction;
        // dL = -dw
        _relativeFastHydrolysable = 1 / ofFast.Fraction * ofFast.Errors;
        _alone = new SharedErrors(_hydrolysed * _relativeFastHydrolysable, -ofFast.Fraction * slow.Shared);
        _perShare = new SharedErrors(ofSlow.Fraction * fast.Shared, -fast.Loss * ofSlow.Errors);
    }

    /// <summary>Whether no k makes h as large as it is.</summary>
    public bool IsAtPlateau => Estimate >= 1;

    private double Estimate => _hydrolysed / _decomposable;

    /// <summary>The least k (d⁻¹) at which an error as large as h has this probability; missing where even 0 is not contradicted, or where
    /// the slow litter lost so much that no k is left.</summary>
    public double? LowerEnd(double probability)
    {
        double most = Math.Min(Estimate, 1);
        return most > 0 && Left(0) < 0 && Left(most) > 0 ? RateAt(Root(Left, 0, most)) : null;

        double Left(double share) => ErrorAt(share).Beyond(ContrastAt(share)) - probability;
    }

    /// <summary>So the largest; missing where a k without bound is not contradicted.</summary>
    public double? UpperEnd(double probability)
    {
        return Estimate < 1 && Left(1) < 0 ? RateAt(Root(Left, Estimate, 1)) : null;

        double Left(double share) => ErrorAt(share).Beyond(-ContrastAt(share)) - probability;
    }

    /// <summary>Signed shared errors of ln k (1) of such a burial whose k is <paramref name="ratePerDay"/>, above 0, and not what its own
    /// weighings give: d ln k = dh / (H_s L_f k t exp(-k t)).</summary>
    public SharedErrors LogRateErrors(double ratePerDay)
    {
        double decays = ratePerDay * _days, share = -double.ExpM1(-decays);
        SharedErrors errors = new(
            share * _decomposable * _relativeFastHydrolysable + share * _perShare.Fast, _alone.Slow + share * _perShare.Slow);
        return 1 / (_decomposable * decays * (1 - share)) * errors;
    }

    /// <summary>So what belongs to the burial alone: variance of ln k, its covariance with S through the fast bag, variance of S
    /// (1).</summary>
    public (double LnRate, double Covariance, double Stabilisation) BagErrors(double ratePerDay)
    {
        double decays = ratePerDay * _days, share = -double.ExpM1(-decays), perContrast = 1 / (_decomposable * decays * (1 - share));
        double ofFastBag = perContrast * share * _fastBag, ofSlowBag = perContrast * _slowBag;
        return (ofSlowBag * ofSlowBag + ofFastBag * ofFastBag + _relativeDays * _relativeDays, ofFastBag * _stabilisationBag,
            _stabilisationBag * _stabilisationBag);
    }

    private static double Root(Func<double, double> f, double from, double to) => Brent.FindRoot(f, from, to, 1e-10);

    private double ContrastAt(double share) => _hydrolysed - _decomposable * share;

    private double RateAt(double share) => -Math.Log(1 - share) / _days;

    private MixedError ErrorAt(double share)
    {
        SharedErrors shared = new(_alone.Fast + share * _perShare.Fast, _alone.Slow + share * _perShare.Slow);
        // dE/dt = k exp(-k t)
        double ofDays = share < 1 ? _decomposable * (1 - share) * Math.Log(1 - share) * _relativeDays : 0;
        double ofFastBag = share * _fastBag;
        double variance = _slowBag * _slowBag + ofFastBag * ofFastBag + ofDays * ofDays
            + shared.BatchCovariance(shared) + shared.LotCovariance(shared);
        return MixedError.Of(variance, shared.Fast.InitialWaterRange, shared.Fast.FinalWaterRange,
            shared.Slow.InitialWaterRange, shared.Slow.FinalWaterRange);
    }
}
