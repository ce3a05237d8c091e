using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace DecayAtlas.Decomposition.Mixed;

/// <summary>The covariance between the units of a factor, or between burials ("residual").</summary>
/// <param name="Covariance">Of the outcomes, in their units.</param>
/// <param name="FirstShare">Share of the sum of the first outcome's variances; known errors are no part of it.</param>
/// <param name="FirstAtZero">Whether the first outcome's variance stands at zero.</param>
public sealed record MixedComponent(
    string Name, int Units, OutcomeCovariance Covariance, double FirstShare, double SecondShare, bool FirstAtZero, bool SecondAtZero)
{
    public double Variance(int outcome) => outcome == 0 ? Covariance.First : Covariance.Second;
}

/// <summary>What a unit's outcome is, all records considered.</summary>
/// <param name="Burials">Of the unit, with this outcome.</param>
/// <param name="RawMean">Their plain mean; missing where there is none.</param>
/// <param name="Effect">Predicted u of the unit and of what it stands in.</param>
/// <param name="Value">x β + <paramref name="Effect"/>, without what lots, batches and other factors add.</param>
/// <param name="StandardError">√(prediction error variance + what the uncertain variances add).</param>
/// <param name="DegreesOfFreedom">Satterthwaite's, of the prediction error variance.</param>
public sealed record UnitValue(
    string Unit, int Outcome, int Burials, double? RawMean, double Effect, double Value, double StandardError, double DegreesOfFreedom,
    double Lower95, double Upper95);

/// <summary>A fitted mixed model.</summary>
public sealed class MixedFit
{
    private readonly MixedDesign _design;
    private readonly MixedLikelihood _likelihood;
    private readonly MixedProfile _profile;
    private readonly Lazy<MixedCurvature> _curvature;
    private readonly Lazy<KenwardRoger> _effects;

    /// <param name="further">What -2 l has besides, of values known only to be at least something.</param>
    /// <param name="like">Whose variances, and what they are uncertain by, these are.</param>
    internal MixedFit(MixedDesign design, MixedLikelihood likelihood, double further, MixedFit? like = null)
    {
        _design = design;
        _likelihood = likelihood;
        _curvature = new(() => new MixedCurvature(design, likelihood, like?._curvature.Value));
        _effects = new(() => new KenwardRoger(design, likelihood, like?._effects.Value));
        _profile = new MixedProfile(design, likelihood, _curvature);
        double[] s = design.Scale;
        OutcomeCovariance[] covariances = [.. Enumerable.Range(0, design.Factors.Length + 1)
            .Select(b => MixedParameters.CovarianceOf(likelihood.Loadings, b))];
        double first = covariances.Sum(c => c.First), second = covariances.Sum(c => c.Second);
        Components = [.. covariances.Select((c, b) => new MixedComponent(
            b < design.Factors.Length ? design.Factors[b].Name : "residual",
            b < design.Factors.Length ? design.UnitNames[b].Length : design.Records.Sum(r => r.Count),
            new OutcomeCovariance(c.First * s[0] * s[0], c.Cross * s[0] * s[1], c.Second * s[1] * s[1]),
            c.First / first, second > 0 ? c.Second / second : 0, c.First == 0, c.Second == 0))];
        // the determinants were those of scaled values
        RestrictedDeviance = likelihood.Criterion + further;
        for (int o = 0; o < design.Outcomes; o++)
        {
            int values = design.Records.Where(r => o == 0 ? r.First is not null && !r.FirstIsAtLeast : r.Second is not null)
                .Sum(r => r.Count);
            RestrictedDeviance += 2 * (values - design.Width) * Math.Log(s[o]);
        }
    }

    /// <summary>In the order of the factors, the residual last.</summary>
    public IReadOnlyList<MixedComponent> Components { get; }

    /// <summary>-2 l.</summary>
    public double RestrictedDeviance { get; }

    /// <summary>Values of all outcomes.</summary>
    public int Observations => _design.Observations;

    /// <summary>β of an outcome, in the order of X.</summary>
    public IReadOnlyList<double> FixedEffects(int outcome) =>
        [.. Enumerable.Range(0, _design.Width).Select(j => _likelihood.Solution[_design.FixedStart + outcome * _design.Width + j]
            * _design.Scale[outcome])];

    /// <summary>(Xᵀ V⁻¹ X)⁻¹ of an outcome, at the variances found as if they were known.</summary>
    public Matrix<double> FixedCovariance(int outcome)
    {
        int first = _design.FixedStart + outcome * _design.Width;
        double square = _design.Scale[outcome] * _design.Scale[outcome];
        return Matrix<double>.Build.Dense(
            _design.Width, _design.Width, (i, j) => square * _likelihood.InverseAt(first + i, first + j));
    }

    /// <summary>A combination of the fixed effects of one outcome.</summary>
    public FixedEffect Effect(int outcome, IReadOnlyList<double> contrast)
    {
        int width = _design.Width;
        if (contrast.Count != width)
            throw new ArgumentException("Give one number for each column of X.", nameof(contrast));
        double[] all = new double[_design.Outcomes * width];
        for (int j = 0; j < width; j++)
            all[outcome * width + j] = contrast[j];
        return Effect(all);
    }

    /// <summary>A combination of the fixed effects of all outcomes, those of the first outcome first.</summary>
    public FixedEffect Effect(IReadOnlyList<double> contrast)
    {
        int width = _design.Width;
        if (contrast.Count != _design.Outcomes * width)
            throw new ArgumentException("Give one number for each column of X and outcome.", nameof(contrast));
        Vector<double> c = Vector<double>.Build.Dense(contrast.Count, j => contrast[j] * _design.Scale[j / width]);
        double estimate = 0;
        for (int j = 0; j < c.Count; j++)
            estimate += c[j] * _likelihood.Solution[_design.FixedStart + j];
        (double variance, double df) = _effects.Value.Of([.. c]);
        return FixedEffect.Of(estimate, Math.Sqrt(variance), df);
    }

    /// <summary>95 % profile-likelihood interval of the variance of an outcome between the units of a factor or "residual"; missing where
    /// the search does not settle.</summary>
    /// <remarks>Where -2 l, all else fitted anew, is 3.841 above its minimum (Pawitan 2001, In All Likelihood, 3.4, from memory).</remarks>
    public (double Lower, double Upper)? VarianceInterval(string component, int outcome = 0)
    {
        if (_profile.Variance(BlockOf(component), outcome) is not var (lower, upper))
            return null;
        double square = _design.Scale[outcome] * _design.Scale[outcome];
        return (lower * square, upper * square);
    }

    /// <summary>The same of its share in the sum of the outcome's variances: the intraclass correlation where a factor stands
    /// alone.</summary>
    public (double Lower, double Upper)? ShareInterval(string component, int outcome = 0) =>
        _profile.Share(BlockOf(component), outcome);

    /// <summary>
    /// The values of a factor's units, each at the mean of its own rows of X: site values that borrow strength from all records.
    /// </summary>
    /// <param name="together">Factors that each unit stands in, whose effects belong to the value, for example the ecosystem of a
    /// site.</param>
    /// <remarks>Best linear unbiased prediction (Henderson 1975). Standard error: Kass and Steffey 1989, J. American Statistical
    /// Association 84:717-726, first order: the prediction error variance at the variances found, and the
    /// square of what their uncertainty moves the prediction.</remarks>
    public IReadOnlyList<UnitValue> Values(string factor, params string[] together)
    {
        MixedTargets targets = new(_design, BlockOf(factor), [.. together.Select(BlockOf)]);
        MixedCurvature curvature = _curvature.Value;
        double[] here = targets.At(_likelihood);
        double[][] slopes = curvature.Slopes(targets.At);
        List<UnitValue> values = new();
        for (int o = 0; o < _design.Outcomes; o++)
        {
            for (int u = 0; u < targets.Units; u++)
            {
                int at = targets.Place(u, o);
                double variance = here[at + 1];
                double[] moved = [.. slopes.Select(s => s[at])], widened = [.. slopes.Select(s => s[at + 1])];
                double error = Math.Sqrt(variance + curvature.Quadratic(moved)), scale = _design.Scale[o];
                double df = curvature.DegreesOfFreedom(variance, widened);
                double half = StudentT.InvCDF(0, 1, Math.Clamp(df, 1, 1e5), 0.975) * error;
                (int burials, double? mean, double fixedPart) = targets.Describe(u, o, _likelihood);
                double value = here[at];
                values.Add(new UnitValue(
                    targets.NameOf(u), o, burials, mean, (value - fixedPart) * scale, value * scale, error * scale, df,
                    (value - half) * scale, (value + half) * scale));
            }
        }

        return values;
    }

    private int BlockOf(string component)
    {
        for (int b = 0; b < Components.Count; b++)
        {
            if (Components[b].Name == component)
                return b;
        }

        throw new ArgumentException($"There is no factor named {component}.", nameof(component));
    }
}
