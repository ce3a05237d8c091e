using System.Globalization;

namespace DecayAtlas.Grids.Catalogue;

/// <summary>One sample of a layer: a number, or the name of a unit or class.</summary>
/// <param name="Label">The attribute of a map unit as text; null for grids and where there is none.</param>
public readonly record struct LayerSample(GridSample Sample, string? Label);

/// <summary>One grid (or map of units) that a covariate is made from, and how a value is taken from it.</summary>
/// <param name="Name">What it is among its like: "month 5", "0-5 cm", "1999-07-01"; empty for a covariate of one layer.</param>
/// <param name="ValidWithinMetres">How far to look for a cell or unit with a value; null does not look.</param>
public sealed record LayerSource(string Name, string Path, GridReadOptions Options, SamplingRule Rule, double? ValidWithinMetres)
{
    /// <summary>Which covariate of which line of the catalogue asked for the layer; the beginning of every complaint.</summary>
    public string Owner { get; init; } = "";

    /// <summary>The attribute that is taken from a map of units; null for a grid.</summary>
    public string? Attribute { get; init; }

    public string? Table { get; init; }

    /// <summary>All that shapes a value, but not where the file lies: its bytes are told apart by their fingerprint.</summary>
    public string Identity => string.Create(
        CultureInfo.InvariantCulture,
        $"band {Options.Band} scale {Options.Scale:R} offset {Options.Offset:R} missing {Options.MissingValue:R} crs {Options.Crs} "
        + $"variable {Options.Variable} select {Options.Steps} "
        + $"rule {Rule} within {ValidWithinMetres:R} attribute {Attribute} table {Table}");

    /// <summary>Why it can be sampled at places and not laid out in cells; <see langword="null"/> for a grid.</summary>
    public string? WhyNoGrid => Attribute is null ? null
        : $"{(Owner.Length > 0 ? Owner + ": " : "")}{Path} is a map of units and no grid; rasterise it, for example with gdal_rasterize "
            + $"-a {Attribute}.";

    /// <exception cref="GridException">The file cannot be used, or is a map of units; the sentence names the covariate.</exception>
    public Grid Open() => WhyNoGrid is { } why ? throw new GridException(why) : Guarded(() => GridFile.Open(Path, Options));

    /// <summary>Opens the layer and samples it.</summary>
    /// <param name="radiiMetres">The uncertainty of each point, for rules that look at the circle.</param>
    /// <exception cref="GridException">The file cannot be used; the sentence names the covariate.</exception>
    public IReadOnlyList<LayerSample> Sample(IReadOnlyList<GeoPoint> points, IReadOnlyList<double?> radiiMetres) =>
        Guarded<IReadOnlyList<LayerSample>>(() =>
    {
        if (Attribute is { } attribute)
        {
            PolygonLayer units = PolygonLayer.Open(Path, attribute, Table, Options.Crs);
            return [.. units.Sample(points, ValidWithinMetres).Select(Of)];
        }

        using Grid grid = GridFile.Open(Path, Options);
        return [.. GridSampler.Sample(grid, points, Rule, ValidWithinMetres, radiiMetres).Select(s => new LayerSample(s, null))];
    });

    // A unit without the attribute is missing, as a cell without a value is.
    private static LayerSample Of(PolygonSample unit) => new(
        unit.Text is null
            ? new GridSample(null, unit.Status == SampleStatus.Outside ? SampleStatus.Outside : SampleStatus.Missing, SamplingRule.Nearest,
                null)
            : new GridSample(unit.Value, unit.Status, SamplingRule.Nearest, unit.DistanceMetres),
        unit.Text);

    /// <summary>Does what may fail over the file; the sentence then names the covariate.</summary>
    internal T Guarded<T>(Func<T> open)
    {
        try
        {
            return open();
        }
        catch (GridException e) when (Owner.Length > 0)
        {
            throw new GridException($"{Owner}: {e.Message}", e);
        }
    }
}
