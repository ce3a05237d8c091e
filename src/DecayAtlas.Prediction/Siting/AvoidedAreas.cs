namespace DecayAtlas.Prediction.Siting;

/// <summary>Polygons in which nobody may bury, on the cells of a map. A cell that one touches counts as in it.</summary>
internal sealed class AvoidedAreas
{
    private readonly (string Name, RegionShape Shape)[] _shapes;

    public AvoidedAreas(RegionSet? polygons, MapLattice lattice) =>
        _shapes = [.. (polygons?.Regions ?? []).SelectMany(r => RegionShape.On(r.Shape, lattice).Select(s => (r.Name, s)))];

    /// <summary>The name of the first that touches a cell; missing where none does.</summary>
    public string? At(int column, int row)
    {
        foreach ((string name, RegionShape shape) in _shapes)
        {
            if (shape.Touches(column, row))
                return name;
        }

        return null;
    }
}
