namespace DecayAtlas.Grids.Formats.Cf;

/// <summary>Which variable of a file is read, where its cells lie and which step of its other dimensions is taken.</summary>
internal sealed class CfSlice(CdfVariable variable, Projection projection, GridLattice lattice, bool southUp, long[] steps, int x, int y)
{
    public CdfVariable Variable => variable;

    public Projection Projection => projection;

    public GridLattice Lattice => lattice;

    /// <summary>Whether the first stored row is the southernmost.</summary>
    public bool SouthUp => southUp;

    public bool Transposed => x < y;

    public static CfSlice Find(CdfFile file, GridReadOptions options)
    {
        CdfVariable variable = Choose(file, options.Variable);
        CfAxis[] axes = [.. variable.Dimensions.Select(d => CfAxis.Of(file, d))];
        int x = Array.FindIndex(axes, a => a.Kind == AxisKind.X), y = Array.FindIndex(axes, a => a.Kind == AxisKind.Y);
        CdfVariable? mapping = file.Find(variable.Text("grid_mapping")?.Split(':', ' ')[0]);
        Projection projection = ProjectionOf(file.Path, options.Crs, mapping, axes[x], axes[y]);
        (double west, double east, double width) = axes[x].Edges(file);
        (double first, double last, double height) = axes[y].Edges(file);
        if (width < 0)
        {
            throw new GridException(
                $"{file.Path}: the columns of {variable.Name} run from east to west; turn them, for example with cdo invertlon or ncpdq.");
        }

        if (variable.Dimensions[x].Length > MaxSide || variable.Dimensions[y].Length > MaxSide)
            throw new GridException($"{file.Path}: {variable.Name} has more than {MaxSide} columns or rows.");

        int columns = (int)variable.Dimensions[x].Length, rows = (int)variable.Dimensions[y].Length;
        GridLattice lattice = new(columns, rows, west, Math.Max(first, last), (east - west) / columns, Math.Abs(last - first) / rows);
        return new CfSlice(
            variable, projection, GeometryCheck.Checked(file.Path, projection, lattice), height > 0,
            Steps(file, axes, x, y, options.Select), x, y);
    }

    public long[] Start(int row, int rows)
    {
        long[] start = [.. steps];
        start[y] = southUp ? lattice.Rows - row - rows : row;
        return start;
    }

    public long[] Count(int rows)
    {
        long[] count = new long[steps.Length];
        Array.Fill(count, 1);
        (count[x], count[y]) = (lattice.Columns, rows);
        return count;
    }

    private const int MaxSide = 1 << 20;

    /// <summary>The variables that lie on a regular grid; bounds of coordinates do not.</summary>
    public static IEnumerable<CdfVariable> Grids(CdfFile file) => file.Variables.Where(v => !v.Type.IsText && IsGrid(file, v));

    /// <summary>The variable that is asked for, or the only one.</summary>
    /// <exception cref="GridException">There is none of that name, or none was named and there are several.</exception>
    public static CdfVariable Choose(CdfFile file, string? wanted)
    {
        CdfVariable[] grids = [.. Grids(file)];
        string names = grids.Length == 0 ? "none" : string.Join(", ", grids.Select(v => v.Name));
        if (wanted is null)
        {
            return grids.Length == 1
                ? grids[0]
                : throw new GridException(
                    $"{file.Path} holds {grids.Length} variables on a regular grid ({names}); name one of them as the variable.");
        }

        return grids.FirstOrDefault(v => v.Name == wanted)
            ?? throw new GridException($"{file.Path} has no variable {wanted} on a regular grid; those on one are: {names}.");
    }

    private static bool IsGrid(CdfFile file, CdfVariable variable)
    {
        AxisKind[] kinds = [.. variable.Dimensions.Select(d => CfAxis.Of(file, d).Kind)];
        return kinds.Count(k => k == AxisKind.X) == 1 && kinds.Count(k => k == AxisKind.Y) == 1;
    }

    private static Projection ProjectionOf(string path, string? declared, CdfVariable? mapping, CfAxis x, CfAxis y)
    {
        if (mapping is not null && !(x.IsDegrees && mapping.Text("grid_mapping_name") == "rotated_latitude_longitude"))
        {
            Projection found = CfGridMapping.Read(path, mapping, x.IsDegrees ? 1 : UnitOf(path, x));
            if (found.IsGeographic != x.IsDegrees)
                throw new GridException($"{path}: grid mapping {mapping.Name} and the unit of {x.Dimension.Name} contradict each other.");

            GeometryCheck.RequireAgreement(path, found, declared);
            return found;
        }

        if (mapping is null && x.IsDegrees && y.IsDegrees)
        {
            Projection found = new(new CrsDefinition("longitude and latitude", ProjectionMethod.Geographic, CfGridMapping.Unstated));
            GeometryCheck.RequireAgreement(path, found, declared);
            return declared is null ? found : GeometryCheck.Declared(path, declared);
        }

        return mapping is null
            ? GeometryCheck.Declared(path, declared)
            : throw new GridException($"{path} is on a rotated pole, which is not known here; regrid it, for example with cdo remapcon.");
    }

    private static double UnitOf(string path, CfAxis x) => x.Variable?.Text("units")?.Trim() switch
    {
        "m" or "metre" or "metres" or "meter" or "meters" => 1,
        "km" or "kilometre" or "kilometres" or "kilometer" or "kilometers" => 1000,
        string other => throw new GridException($"{path}: coordinates {x.Dimension.Name} are in \"{other}\", and m or km was expected."),
        null => throw new GridException($"{path}: coordinates {x.Dimension.Name} state no unit, and m or km was expected."),
    };

    private static long[] Steps(CdfFile file, CfAxis[] axes, int x, int y, IReadOnlyDictionary<string, string>? select)
    {
        long[] start = new long[axes.Length];
        foreach (string name in (select ?? new Dictionary<string, string>()).Keys)
        {
            if (!axes.Where((_, d) => d != x && d != y).Any(a => a.Dimension.Name == name))
                throw new GridException($"{file.Path} has no dimension {name} to select from.");
        }

        for (int d = 0; d < axes.Length; d++)
        {
            if (d == x || d == y)
                continue;

            if (select?.TryGetValue(axes[d].Dimension.Name, out string? wanted) == true)
            {
                start[d] = axes[d].Select(file, wanted);
            }
            else if (axes[d].Dimension.Length != 1)
            {
                throw new GridException(
                    $"{file.Path} has {axes[d].Dimension.Length} steps of {axes[d].Dimension.Name}; select one of "
                    + $"{axes[d].Listing(file)}.");
            }
        }

        return start;
    }
}
