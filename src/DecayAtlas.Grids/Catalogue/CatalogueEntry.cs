namespace DecayAtlas.Grids;

/// <summary>One covariate of a catalogue: a band of a grid file and how to take values from it.</summary>
/// <param name="Name">Column name: lower-case letters, digits and underscores.</param>
/// <param name="Title">What the number is, for people.</param>
/// <param name="Path">The file.</param>
/// <param name="Band">Band in the file, from 1.</param>
/// <param name="Unit">Unit of the scaled value; empty for a pure number.</param>
/// <param name="Rule">How a value is taken.</param>
/// <param name="IsClass">Whether the numbers are class codes, which are never interpolated.</param>
/// <param name="ValidWithinMetres">How far to look for a cell with a value, metres; null does not look.</param>
/// <param name="Scale">In place of the file's scale; null leaves it to the file.</param>
/// <param name="Offset">In place of the file's offset.</param>
/// <param name="MissingValue">Stored value that means missing, in place of the file's.</param>
/// <param name="Source">Where the grid comes from.</param>
/// <param name="Crs">Reference system of a file that names none.</param>
/// <param name="Variable">Variable of a NetCDF file.</param>
/// <param name="Select">Step of each further dimension of a NetCDF variable; see <see cref="GridReadOptions"/>.</param>
public sealed record CatalogueEntry(
    string Name,
    string Title,
    string Path,
    int Band,
    string Unit,
    SamplingRule Rule,
    bool IsClass,
    double? ValidWithinMetres,
    double? Scale,
    double? Offset,
    double? MissingValue,
    string? Source,
    string? Crs = null,
    string? Variable = null,
    IReadOnlyDictionary<string, string>? Select = null)
{
    /// <summary>Opens the grid.</summary>
    /// <exception cref="GridException">The file cannot be used; the sentence names the covariate.</exception>
    public Grid Open()
    {
        try
        {
            return GridFile.Open(Path, new GridReadOptions(Band, Scale, Offset, MissingValue, Crs, Variable, Select));
        }
        catch (GridException e)
        {
            throw new GridException($"Covariate {Name}: {e.Message}", e);
        }
    }
}
