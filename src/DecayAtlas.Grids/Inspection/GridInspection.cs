namespace DecayAtlas.Grids.Inspection;

/// <summary>
/// What this library understands of a grid file: all that it holds, and one of its layers opened and looked at. A layer that
/// cannot be opened says why in <see cref="Refusal"/>.
/// </summary>
/// <param name="Path">The file, or a pattern of tiles.</param>
/// <param name="Options">How it was opened; a dimension that was left open is at its first step.</param>
public sealed record GridInspection(string Path, GridDescription Description, GridLayer Layer, GridReadOptions Options)
{
    /// <summary>Where its cells lie; null where it was refused.</summary>
    public GridPlace? Place { get; private init; }

    /// <summary>What its values look like; null where it was refused.</summary>
    public GridStatistics? Values { get; private init; }

    /// <summary>Why it cannot be used, in one sentence.</summary>
    public string? Refusal { get; private init; }

    /// <param name="asked">Band or variable, and what else is known better than the file says.</param>
    /// <exception cref="GridException">The file is absent, of another format, damaged beyond description, or has no such layer.</exception>
    public static GridInspection Of(string path, GridReadOptions? asked = null)
    {
        GridInspection found = Opening(path, asked ?? new GridReadOptions());
        try
        {
            using Grid grid = GridFile.Open(path, found.Options);
            return found with { Place = GridPlace.Of(grid), Values = GridStatistics.Of(grid) };
        }
        catch (GridException e)
        {
            return found with { Refusal = e.Message };
        }
    }

    internal static GridInspection Opening(string path, GridReadOptions asked)
    {
        GridDescription description = GridFile.Describe(path, asked.Remote);
        GridLayer layer = Choose(path, description, asked);
        return new(path, description, layer,
            asked with { Variable = layer.Variable, Band = layer.Band, Select = StepsOf(layer, asked.Select) });
    }

    private static GridLayer Choose(string path, GridDescription description, GridReadOptions asked)
    {
        if (description.Layers.Count == 0)
            throw new GridException($"{path} holds no variable on a regular grid.");

        GridLayer? found = asked.Variable is { } name
            ? description.Layers.FirstOrDefault(l => l.Variable == name)
            : description.Layers.FirstOrDefault(l => l.Band == asked.Band);
        string there = description.Layers[0].Variable is null ? "bands and no variables"
            : string.Join(", ", description.Layers.Select(l => l.Variable));
        return found ?? throw new GridException(asked.Variable is { } wanted
            ? $"{path} has no variable {wanted}; it has {there}."
            : $"{path} has {description.Layers.Count} band(s), and band {asked.Band} was asked for.");
    }

    private static Dictionary<string, string>? StepsOf(GridLayer layer, IReadOnlyDictionary<string, string>? asked)
    {
        Dictionary<string, string> steps = new(asked ?? new Dictionary<string, string>());
        foreach (GridDimension dimension in layer.Dimensions.Where(d => d.Steps.Count > 1))
            steps.TryAdd(dimension.Name, "#1");

        return steps.Count == 0 ? null : steps;
    }
}

/// <param name="Crs">Name of the reference system and kind of its map.</param>
/// <param name="Unit">Unit of its coordinates: degrees, m, or so many m.</param>
/// <param name="Caveat">What is neglected, such as a datum taken as WGS 84; null where nothing is.</param>
/// <param name="CellMetres">Width and height of the middle cell on the ground, metres; null off the map.</param>
/// <param name="GoesRoundTheEarth">Whether the last column touches the first.</param>
public sealed record GridPlace(
    string Crs, string Unit, string? Caveat, GridLattice Lattice, GroundExtent Ground, (double Width, double Height)? CellMetres,
    bool GoesRoundTheEarth)
{
    internal static GridPlace Of(Grid grid)
    {
        double column = grid.Columns / 2 + 0.5, row = grid.Rows / 2 + 0.5;
        GeoPoint west = grid.PlaceOf(column - 0.5, row), east = grid.PlaceOf(column + 0.5, row);
        GeoPoint north = grid.PlaceOf(column, row - 0.5), south = grid.PlaceOf(column, row + 0.5);
        double width = west.GroundDistanceMetres(east), height = north.GroundDistanceMetres(south);
        double metres = grid.Projection.Definition.UnitMetres;
        return new GridPlace(
            grid.Projection.IsGeographic ? grid.Projection.Name
            : $"{grid.Projection.Name}, {Words(grid.Projection.Definition.Method.ToString())}",
            grid.Projection.IsGeographic ? "degrees"
            : metres == 1 ? "m" : $"times {metres} m",
            grid.Projection.Caveat, grid.Lattice, grid.Extent(),
            double.IsNaN(width + height) ? null : (width, height), grid.GoesRoundTheEarth);
    }

    // "LambertAzimuthal" is Lambert azimuthal.
    private static string Words(string name) =>
        name[0] + string.Concat(name.Skip(1).Select(c => char.IsUpper(c) ? $" {char.ToLowerInvariant(c)}" : c.ToString()));
}
