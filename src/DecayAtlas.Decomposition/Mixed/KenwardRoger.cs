using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DecayAtlas.Decomposition.Mixed;

/// <summary>Variances of combinations of the fixed effects, and their degrees of freedom, with what the uncertain variances add, also those
/// that were found to be zero.</summary>
/// <remarks><code>
/// var = φ + 2 Σ_jk W_jk gᵀ V_j P V_k g     df = 2 φ²/Σ_jk W_jk (gᵀ V_j g)(gᵀ V_k g)     g = V⁻¹ X (Xᵀ V⁻¹ X)⁻¹ c,  φ = gᵀ V g
/// </code>
/// W the inverse of the expected information. Kenward and Roger 1997, Biometrics 53:983-997; Kackar and Harville 1984, J. American
/// Statistical Association 79:853-862.</remarks>
internal sealed class KenwardRoger
{
    private readonly MixedDesign _design;
    private readonly MixedLikelihood _likelihood;
    private readonly MixedInformation _information;
    private readonly MixedInformation.Direction[] _directions;
    private readonly Matrix<double> _covariance;

    /// <summary>What each fixed effect takes, made when it is first asked for: a combination takes the combination of these.</summary>
    private readonly Lazy<Taken>[] _effects;

    /// <summary>Quantities that records share, in the order of their names, and what each does to the outcomes of each record: at its own
    /// value, and as the fit took it. Sought by name once, and not for every combination.</summary>
    private readonly int _quantities;
    private readonly (int Quantity, double OnFirst, double OnSecond)[][] _here, _taken;

    /// <param name="like">Of nearly the same records by the same factors: what the variances are uncertain by is taken from
    /// there.</param>
    public KenwardRoger(MixedDesign design, MixedLikelihood likelihood, KenwardRoger? like = null)
    {
        _design = design;
        _likelihood = likelihood;
        _information = new MixedInformation(design, likelihood);
        _directions = [.. new MixedParameters(design).Places.Select(MixedInformation.Direction.OfEntry)];
        (_quantities, _here, _taken) = SharedOf(design);
        _effects = [.. Enumerable.Range(0, design.Size - design.FixedStart).Select(j => new Lazy<Taken>(() => TakenBy(j)))];
        if (like is null)
        {
            _covariance = 2 * Inverse(Matrix<double>.Build.DenseOfArray(_information.Expected(_directions)));
            return;
        }

        double[] scale = [.. _directions.Select(d => ScaleOf(like._design, d.Change) / ScaleOf(design, d.Change))];
        _covariance = like._covariance.MapIndexed((j, k, c) => c * scale[j] * scale[k]);
    }

    /// <param name="contrast">Of the scaled outcomes' effects.</param>
    public (double Variance, double DegreesOfFreedom) Of(IReadOnlyList<double> contrast)
    {
        (double First, double Second)[] weights = new (double, double)[_design.Records.Length];
        (double First, double Second)[] response = new (double, double)[weights.Length];
        double variance = 0;
        for (int j = 0; j < contrast.Count; j++)
        {
            double c = contrast[j];
            if (c == 0)
                continue;
            Taken effect = _effects[j].Value;
            variance += c * contrast.Select((other, k) => other * effect.Covariance[k]).Sum();
            for (int i = 0; i < weights.Length; i++)
            {
                weights[i] = (weights[i].First + c * effect.Weights[i].First, weights[i].Second + c * effect.Weights[i].Second);
                response[i] = (response[i].First + c * effect.Response[i].First, response[i].Second + c * effect.Response[i].Second);
            }
        }

        variance += MoreOfShared(weights);
        double added = weights.Zip(response, (w, r) => w.First * r.First + w.Second * r.Second).Sum();
        Vector<double> slopes = Vector<double>.Build.Dense(_information.Own(weights, _directions));
        return (variance + 2 * added, 2 * variance * variance / slopes.DotProduct(_covariance * slopes));
    }

    private Taken TakenBy(int effect)
    {
        double[] one = new double[_design.Size];
        one[_design.FixedStart + effect] = 1;
        double[] solved = _likelihood.Solve(one);
        (double, double)[] weights = _likelihood.WeightsOf(solved);
        return new Taken(solved[_design.FixedStart..], weights, _information.Response(weights, _directions, _covariance.ToArray()));
    }

    // what shared quantities do to the combination at each record, less what the fit took them to do
    private double MoreOfShared((double First, double Second)[] weights)
    {
        double[] here = Moved(_here), taken = Moved(_taken);
        return here.Select((x, q) => x * x - taken[q] * taken[q]).Sum();

        double[] Moved((int Quantity, double OnFirst, double OnSecond)[][] shared)
        {
            double[] moved = new double[_quantities];
            for (int i = 0; i < shared.Length; i++)
            {
                foreach ((int quantity, double onFirst, double onSecond) in shared[i])
                    moved[quantity] += weights[i].First * onFirst / _design.Scale[0] + weights[i].Second * onSecond / _design.Scale[1];
            }

            return moved;
        }
    }

    // of records that share something at their own value
    private static (int Quantities, (int, double, double)[][] Here, (int, double, double)[][] Taken) SharedOf(MixedDesign design)
    {
        MixedRecord[] told = [.. design.Told.Where(r => r.SharedHere.Count > 0)];
        Dictionary<string, int> places = told.SelectMany(r => r.SharedHere.Concat(r.Shared)).Select(s => s.Quantity)
            .Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).Select((name, at) => (name, at))
            .ToDictionary(p => p.name, p => p.at, StringComparer.Ordinal);
        (int, double, double)[][] Of(Func<MixedRecord, IReadOnlyList<SharedLoading>> shared) =>
            [.. design.Told.Select(r => r.SharedHere.Count == 0 ? [] : shared(r)
                .Select(s => (places[s.Quantity], s.OnFirst, s.OnSecond)).ToArray())];
        return (places.Count, Of(r => r.SharedHere), Of(r => r.Shared));
    }

    private static double ScaleOf(MixedDesign design, OutcomeCovariance entry) =>
        entry.First != 0 ? design.Scale[0] * design.Scale[0] : entry.Second != 0 ? design.Scale[1] * design.Scale[1]
            : design.Scale[0] * design.Scale[1];

    // a direction that the values tell nothing of to rounding is left out
    private static Matrix<double> Inverse(Matrix<double> information)
    {
        Vector<double> roots = information.Diagonal().PointwiseSqrt();
        Evd<double> eigen = information.MapIndexed((j, k, v) => roots[j] * roots[k] > 0 ? v / (roots[j] * roots[k]) : 0)
            .Evd(Symmetricity.Symmetric);
        Matrix<double> inverse = eigen.EigenVectors * Matrix<double>.Build.DenseOfDiagonalVector(
            eigen.EigenValues.Map(e => e.Real > 1e-10 ? 1 / e.Real : 0)) * eigen.EigenVectors.Transpose();
        return inverse.MapIndexed((j, k, v) => roots[j] * roots[k] > 0 ? v / (roots[j] * roots[k]) : 0);
    }

    /// <param name="Covariance">With all fixed effects.</param>
    /// <param name="Weights">g, by record and outcome.</param>
    /// <param name="Response">Σ_jk W_jk V_j P V_k g.</param>
    private sealed record Taken(
        double[] Covariance, (double First, double Second)[] Weights, (double First, double Second)[] Response);
}
