using MathNet.Numerics.Distributions;

namespace DecayAtlas.Prediction.Limits;

/// <summary>
/// Mean variances, on the scale of the target, that tell the three kinds of interval apart: what was held out differs from its prediction
/// by what the place is off by, by its own measurement, and by what the choice of sites does to the model; and it shares the errors of its
/// lots with the model, so that these do not show in it.
/// </summary>
/// <param name="OfRows">What one row was measured wrong by, its burials and batches together.</param>
/// <param name="OfModel">What other sites would have changed in the predictions of held-out rows.</param>
/// <param name="OfLots">What the lots of one row make it wrong by.</param>
/// <param name="OfLotsShown">What of that shows in held-out rows (<see cref="LotResiduals"/>).</param>
public sealed record ErrorParts(double OfRows, double OfModel, double OfLots, double OfLotsShown)
{
    /// <summary>Whatever is taken off, a place keeps this share of the half-width that held-out rows showed (common practice, no
    /// source).</summary>
    private const double LeastShare = 0.3;

    /// <param name="withoutLots">The residuals without what lots show in them.</param>
    internal static ErrorParts Of(CovariateTable table, IReadOnlyList<double> ofModel, IReadOnlyList<double> residuals,
        IReadOnlyList<double> withoutLots) => new(
        table.Rows.Average(r => r.Errors.OwnVariance + r.Errors.BatchVariance), ofModel.Average(),
        table.Rows.Average(r => r.Errors.LotVariance),
        Math.Max(0, residuals.Average(r => r * r) - withoutLots.Average(r => r * r)));

    /// <summary>Half the width of what the place itself is off by, out of that of held-out rows.</summary>
    internal double LocalHalfWidth(double ofHeldOut, double level)
    {
        double z = NormalQuantile(level);
        double square = ofHeldOut * ofHeldOut;
        return Math.Sqrt(Math.Max(square - z * z * (OfRows + OfModel + OfLotsShown), LeastShare * LeastShare * square));
    }

    /// <summary>Of an interval of two equal sides that holds a share of a normal error.</summary>
    internal static double NormalQuantile(double level) => Normal.InvCDF(0, 1, (1 + level) / 2);
}
