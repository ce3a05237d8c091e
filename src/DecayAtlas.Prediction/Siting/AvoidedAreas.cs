using NetTopologySuite.Geometries;
using NetTopologySuite.Index.Strtree;

namespace DecayAtlas.Prediction.Siting;

/// <summary>Polygons in which nobody may bury, on the cells of a map. A cell that one touches counts as in it.</summary>
internal sealed class AvoidedAreas
{
    private readonly STRtree<int> _tree = new();
    private readonly (string Name, RegionShape Shape)[] _shapes;

    public AvoidedAreas(RegionSet? polygons, MapLattice lattice)
    {
        _shapes = [.. (polygons?.Regions ?? []).SelectMany(r => RegionShape.On(r.Shape, lattice).Select(s => (r.Name, s)))];
        for (int i = 0; i < _shapes.Length; i++)
            _tree.Insert(_shapes[i].Shape.Box, i);
        _tree.Build();
    }

    /// <summary>The name of the first in the file that touches a cell; missing where none does.</summary>
    public string? At(int column, int row)
    {
        if (_shapes.Length == 0)
            return null;
        int first = _tree.Query(new Envelope(column, column + 1, row, row + 1)).Where(i => _shapes[i].Shape.Touches(column, row))
            .DefaultIfEmpty(int.MaxValue).Min();
        return first == int.MaxValue ? null : _shapes[first].Name;
    }
}
