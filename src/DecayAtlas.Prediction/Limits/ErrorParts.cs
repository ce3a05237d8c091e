using MathNet.Numerics.Distributions;

namespace DecayAtlas.Prediction.Limits;

/// <summary>
/// Mean variances, on the scale of the target, that tell the three kinds of interval apart: what was held out differs from its prediction
/// by what the place is off by, by its own measurement, and by what the choice of sites does to the model; and it shares the errors of its
/// lots with the model, so that these do not show in it, as far as lots could be told apart.
/// </summary>
/// <param name="OfRows">What one row was measured wrong by, its burials and batches together.</param>
/// <param name="OfModel">What other sites would have changed in the predictions of held-out rows.</param>
/// <param name="OfLots">What the lots of one row make it wrong by.</param>
public sealed record ErrorParts(double OfRows, double OfModel, double OfLots)
{
    /// <summary>Whatever is taken off, a place keeps this share of the half-width that held-out rows showed (common practice, no
    /// source).</summary>
    private const double LeastShare = 0.3;

    internal static ErrorParts Of(CovariateTable table, IReadOnlyList<double> ofModel) => new(
        table.Rows.Average(r => r.Errors.OwnVariance + r.Errors.BatchVariance), ofModel.Average(),
        table.Rows.Average(r => r.Errors.LotVariance));

    /// <summary>Half the width of what the place itself is off by, out of that of held-out rows.</summary>
    internal double LocalHalfWidth(double ofHeldOut, double level)
    {
        double z = NormalQuantile(level);
        double square = ofHeldOut * ofHeldOut;
        return Math.Sqrt(Math.Max(square - z * z * (OfRows + OfModel), LeastShare * LeastShare * square));
    }

    /// <summary>Of an interval of two equal sides that holds a share of a normal error.</summary>
    internal static double NormalQuantile(double level) => Normal.InvCDF(0, 1, (1 + level) / 2);
}
