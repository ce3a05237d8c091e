namespace DecayAtlas.Decomposition.Means;

/// <summary>A mean over the burials of a site, with its errors apart.</summary>
/// <param name="Sd">Standard deviation between burials; missing where it is not known.</param>
/// <param name="Shared">What comes from lots and batches and does not shrink with more burials; missing where no lot is known.</param>
public sealed record MeanWithErrors(int Burials, double Mean, double? Sd, SharedErrors? Shared)
{
    /// <summary>Standard error of the mean from scatter between burials, sd/√n; missing where the scatter is not known.</summary>
    public double? ReplicateUncertainty => Sd / Math.Sqrt(Burials);

    /// <summary>Combined standard uncertainty, of what is known of it.</summary>
    public double Uncertainty => Math.Sqrt(
        Square(ReplicateUncertainty) + Square(Shared?.UncertaintyBatch) + Square(Shared?.UncertaintyLot));

    private static double Square(double? x) => x * x ?? 0;
}

/// <summary>ln k (k in d⁻¹), k (d⁻¹) and S (1) of the burials of one site, known from means alone.</summary>
public sealed record MeanIndex(Computed<MeanWithErrors> LnRate, Computed<MeanWithErrors> RatePerDay, Computed<MeanWithErrors> Stabilisation)
{
    /// <summary>Whether k and S are on the chemistry of the lots named.</summary>
    public bool IsHarmonised { get; init; }

    internal static MeanIndex Without(MissingReason rate, Computed<MeanWithErrors> stabilisation) => new(rate, rate, stabilisation);

    /// <summary>With k of burials whose ln k has this mean: e^(mean + m/2), m the second moment of ln k about it.</summary>
    internal static MeanIndex With(MeanWithErrors lnRate, Computed<MeanWithErrors> stabilisation)
    {
        double sd = lnRate.Sd ?? 0, k = Math.Exp(lnRate.Mean + Moment(lnRate.Burials) * sd * sd / 2);
        return new MeanIndex(lnRate, new MeanWithErrors(lnRate.Burials, k, k * lnRate.Sd, k * lnRate.Shared), stabilisation);
    }

    /// <summary>Second moment of n values about their mean over the square of their standard deviation.</summary>
    internal static double Moment(int n) => (n - 1.0) / n;
}
