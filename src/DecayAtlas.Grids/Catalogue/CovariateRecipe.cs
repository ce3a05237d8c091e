using System.Globalization;
using System.Text;

namespace DecayAtlas.Grids.Catalogue;

/// <summary>Why a covariate has no value for a burial, whatever the grids say.</summary>
public enum RecipeGap
{
    None,

    /// <summary>The covariate needs the dates of the exposure, and one is not known or they are the wrong way round.</summary>
    NoDates,

    NoDepth,

    /// <summary>The layers do not reach over the whole exposure, or not over half of the bag.</summary>
    NotCovered,
}

/// <summary>A value made from layers: a number, the name of a class, or nothing.</summary>
public readonly record struct RecipeValue(double? Number, string? Label = null);

/// <summary>
/// Which layers make up a covariate for one burial (or one stated season and depth), and how: sample every layer of
/// <see cref="Layers"/> at a place and give the values to <see cref="Combine"/>.
/// </summary>
public sealed class CovariateRecipe
{
    private CovariateRecipe(IReadOnlyList<LayerSource> layers, IReadOnlyList<double> weights, double coveredShare) =>
        (Layers, Weights, CoveredShare) = (layers, weights, coveredShare);

    /// <summary>The layers that are needed; none where there is a <see cref="Gap"/>.</summary>
    public IReadOnlyList<LayerSource> Layers { get; }

    /// <summary>The weight of each layer in a weighted sum; empty where a formula combines them.</summary>
    public IReadOnlyList<double> Weights { get; }

    /// <summary>Share of the bag's height, or of the days of the exposure, that the layers describe, 0..1.</summary>
    public double CoveredShare { get; }

    public RecipeGap Gap { get; private init; }

    private double? Base { get; init; }

    private Func<double, double?[], RecipeValue>? Formula { get; init; }

    private string? Days { get; init; }

    internal static CovariateRecipe Missing(RecipeGap gap, double coveredShare = 0) => new([], [], coveredShare) { Gap = gap };

    /// <summary>The sum of weight x value, or of weight x max(0, value - base) where there is a base; layers of weight 0 are left
    /// out.</summary>
    internal static CovariateRecipe Sum(IEnumerable<(LayerSource Layer, double Weight)> terms, double coveredShare = 1,
        double? threshold = null)
    {
        (LayerSource Layer, double Weight)[] counting = [.. terms.Where(t => t.Weight > 0)];
        return new([.. counting.Select(t => t.Layer)], [.. counting.Select(t => t.Weight)], coveredShare) { Base = threshold };
    }

    /// <summary>A formula of latitude and the values of the layers.</summary>
    /// <param name="days">In words, how many days of which layer or month the formula counts; null where it is of a whole year.</param>
    internal static CovariateRecipe Of(IReadOnlyList<LayerSource> layers, Func<double, double?[], RecipeValue> formula,
        string? days = null) => new(layers, [], 1) { Formula = formula, Days = days };

    /// <summary>Makes the value from those of the layers; a missing one makes it missing.</summary>
    /// <param name="latitudeDegrees">Where; some formulas need the length of the day.</param>
    /// <param name="values">A value for each of <see cref="Layers"/>, NaN where missing.</param>
    public RecipeValue Combine(double latitudeDegrees, ReadOnlySpan<double> values)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(values.Length, Layers.Count, nameof(values));
        if (Formula is not null)
        {
            double?[] known = new double?[values.Length];
            for (int i = 0; i < known.Length; i++)
                known[i] = double.IsNaN(values[i]) ? null : values[i];

            return Formula(latitudeDegrees, known);
        }

        double sum = 0;
        for (int i = 0; i < values.Length; i++)
            sum += Weights[i] * (Base is { } least && !double.IsNaN(values[i]) ? Math.Max(0, values[i] - least) : values[i]);

        return new RecipeValue(values.Length == 0 || double.IsNaN(sum) ? null : sum);
    }

    /// <summary>The layers used and their weights in words; layers that follow each other with the same weight are drawn
    /// together.</summary>
    public string? Explanation()
    {
        if (Weights.Count == 0 || Layers is [{ Name: "" }])
            return Days;

        StringBuilder text = new();
        for (int i = 0; i < Weights.Count;)
        {
            int end = i;
            while (end + 1 < Weights.Count && Weights[end + 1] == Weights[i] && Weights.Count > 12)
                end++;

            text.Append(text.Length == 0 ? "" : "; ").Append(Layers[i].Name).Append(end > i ? " to " + Layers[end].Name : "");
            text.Append(CultureInfo.InvariantCulture, $" x {Weights[i]:G6}{(end > i ? " each" : "")}");
            i = end + 1;
        }

        return text.ToString();
    }
}
