using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.GridFiles;

/// <summary>Which layer of a grid file.</summary>
internal abstract class GridLayerSettings : CommandSettings
{
    [CommandOption("--band <NUMBER>")]
    [Description("Band of a GeoTIFF, from 1; the first unless stated.")]
    public int? Band { get; init; }

    [CommandOption("--variable <NAME>")]
    [Description("Variable of a NetCDF file.")]
    public string? Variable { get; init; }

    [CommandOption("--select <STEP>")]
    [Description("Step of a further dimension of a NetCDF variable, for example time=1999-07 or depth=0.15; once for each dimension.")]
    public string[] Select { get; init; } = [];

    [CommandOption("--crs <CODE>")]
    [Description("Reference system of a file that names none, for example EPSG:4326.")]
    public string? Crs { get; init; }

    public GridReadOptions ReadOptions() => new(Band ?? 1, Crs: Crs, Variable: Variable, Select: Select.Length == 0 ? null : Steps());

    private Dictionary<string, string> Steps()
    {
        Dictionary<string, string> steps = new(StringComparer.Ordinal);
        foreach (string step in Select)
        {
            if (step.Split('=', 2) is not [{ Length: > 0 } name, { Length: > 0 } at])
            {
                throw new ConfigurationException($"--select is \"{step}\", and DIMENSION=STEP was expected, such as time=1999-07 or "
                    + "depth=#2.");
            }

            steps[name] = at;
        }

        return steps;
    }
}

/// <summary>Which layer of which grid file.</summary>
internal abstract class GridFileSettings : GridLayerSettings
{
    [CommandArgument(0, "<FILE>")]
    [Description("A GeoTIFF, NetCDF or Esri ASCII grid; a name with * stands for the tiles of one grid.")]
    public required string File { get; init; }

    /// <exception cref="ConfigurationException">There is no such file.</exception>
    public static void RequireFile(string file)
    {
        if (file.StartsWith("https://", StringComparison.Ordinal) || file.StartsWith("http://", StringComparison.Ordinal))
            return;
        if (Directory.Exists(file))
            throw new ConfigurationException($"{file} is a folder; name a grid file in it.");
        if (Path.GetFileName(file).IndexOfAny(['*', '?']) < 0 && !System.IO.File.Exists(file))
            throw new ConfigurationException($"There is no file {file}; correct the path.");
    }
}
