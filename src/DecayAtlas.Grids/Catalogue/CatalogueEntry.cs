namespace DecayAtlas.Grids.Catalogue;

/// <summary>One covariate of a catalogue: a band of a grid file and how to take values from it, or what it is made from.</summary>
/// <param name="Name">Column name: lower-case letters, digits and underscores.</param>
/// <param name="Path">The file, or its pattern; empty for a covariate whose layers name files of their own and for a derived one.</param>
/// <param name="Unit">Unit of the covariate's value; empty for a pure number.</param>
/// <param name="IsClass">Whether the values are classes, which are never interpolated or averaged.</param>
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
    /// <summary>What the covariate is made from; null for the one grid that the entry itself describes.</summary>
    public CovariateMaking? Making { get; init; }

    /// <summary>Names of the classes of a grid, by their code; null where the codes have none.</summary>
    public IReadOnlyDictionary<double, string>? Classes { get; init; }

    /// <summary>The name of the class at a place: that of the map unit or of the formula, or of the code, or the code itself.</summary>
    /// <param name="code">Null where the grid has none there.</param>
    public string? ClassNameOf(double? code, string? label = null) =>
        label ?? (code is { } known ? NameOf(known) ?? CodeText(known) : null);

    /// <summary>The name that the catalogue gives a code; null where it gives none.</summary>
    public string? NameOf(double code) => Classes?.GetValueOrDefault(code);

    /// <summary>A class that has no name is called by its code.</summary>
    public static string CodeText(double code) => code.ToString("R", System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>The list of the vocabulary that labels are words of; null where they are no words of one.</summary>
    public string? Words { get; init; }

    /// <summary>What may be read over the network.</summary>
    public RemoteGrids Remote { get; init; } = RemoteGrids.None;

    /// <summary>Where the catalogue declares it, "file:line"; empty for an entry made in code.</summary>
    public string DeclaredAt { get; init; } = "";

    /// <summary>Whether the value differs between burials of one site, by their dates or depth.</summary>
    public bool DependsOnBurial => Made.DependsOnBurial;

    /// <summary>Every file that a value may come from, those of its inputs too, each once.</summary>
    public IReadOnlyList<string> Files =>
        [.. Made.Declared.Select(l => l.Path).Concat(Made.Inputs.OrderBy(i => i.Key, StringComparer.Ordinal).SelectMany(i => i.Value.Files))
            .Distinct(StringComparer.Ordinal)];

    public CovariateMaking Made => Making ?? new OneLayer(Layer);

    /// <summary>
    /// Which layers count for a burial (or for a stated season and depth), and how they combine. A map samples the recipe's layers
    /// at each cell and combines them; so does the snapping of sites.
    /// </summary>
    public CovariateRecipe RecipeFor(BurialConditions conditions)
    {
        ArgumentNullException.ThrowIfNull(conditions);
        return Made.RecipeFor(conditions);
    }

    /// <summary>Stands for the bytes of one of <see cref="Files"/>.</summary>
    /// <param name="ofPath">For a file on disk.</param>
    /// <exception cref="GridException">It can't be read.</exception>
    public string FingerprintOf(string file, Func<string, string> ofPath)
    {
        ArgumentNullException.ThrowIfNull(ofPath);
        if (!RemoteAddress.Is(file))
            return ofPath(file);
        try
        {
            return Remote.FingerprintOf(file);
        }
        catch (GridException e)
        {
            throw new GridException($"{Owner}: {e.Message}", e);
        }
    }

    internal string Owner => $"{(DeclaredAt.Length > 0 ? DeclaredAt + ": c" : "C")}ovariate {Name}";

    private LayerSource Layer =>
        new("", Path, Reading with { Remote = Remote }, Rule, ValidWithinMetres) { Owner = Owner };

    private GridReadOptions Reading => new(Band, Scale, Offset, MissingValue, Crs, Variable, Select);
}
