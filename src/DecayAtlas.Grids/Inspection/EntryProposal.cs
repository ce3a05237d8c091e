namespace DecayAtlas.Grids.Inspection;

/// <summary>What a person states of a new entry, in place of what would be proposed; null leaves it to the file.</summary>
public sealed record EntryWishes(
    string? Title = null, string? Unit = null, string? Kind = null, string? Rule = null, double? ValidWithinMetres = null,
    string? Source = null);

/// <summary>An entry of a catalogue that is proposed for a layer of a file, and why.</summary>
/// <param name="Text">The entry as YAML, lines without indent, the first beginning with "- ".</param>
/// <param name="Reasons">What was decided and why, a sentence each.</param>
public sealed record EntryProposal(IReadOnlyList<string> Text, IReadOnlyList<string> Reasons)
{
    /// <summary>Cells narrower than this are smaller than the place of many sites is known (common practice, no source).</summary>
    private const double FineCellMetres = 1000;

    /// <param name="found">The layer, which must not be refused.</param>
    /// <param name="file">The file as the catalogue shall write it.</param>
    /// <exception cref="GridException">The file states no unit and none was given.</exception>
    public static EntryProposal For(GridInspection found, string name, string file, EntryWishes wishes)
    {
        ArgumentNullException.ThrowIfNull(found);
        ArgumentNullException.ThrowIfNull(wishes);
        List<string> reasons = [];
        bool isClass = wishes.Kind is { } kind ? kind == "class" : LooksLikeClasses(found, reasons);
        string title = wishes.Title ?? found.Layer.Title ?? name.Replace('_', ' ');
        string unit = wishes.Unit ?? (isClass ? "" : found.Layer.Unit is { Length: > 0 } said ? said : throw new GridException(
            $"{found.Path} states no unit; give it with --unit, for example --unit mm, --unit 1 for a pure number, or --kind class for "
            + "codes."));
        string rule = wishes.Rule ?? RuleFor(found, isClass, reasons);
        List<(string Key, string Value)> keys = [("name", name), ("title", Quoted(title)), ("file", Quoted(file))];
        if (found.Layer.Variable is { } variable)
            keys.Add(("variable", Quoted(variable)));

        if (found.Options.Band != 1)
            keys.Add(("band", $"{found.Options.Band}"));

        if (found.Options.Select is { } select)
        {
            string steps = string.Join(", ", select.OrderBy(s => s.Key, StringComparer.Ordinal)
                .Select(s => $"{Quoted(s.Key)}: {Quoted(s.Value)}"));
            keys.Add(("select", $"{{ {steps} }}"));
        }

        if (found.Options.Crs is { } crs)
            keys.Add(("crs", Quoted(crs)));

        keys.AddRange([("unit", Quoted(unit)), ("rule", rule), ("kind", isClass ? "class" : "continuous")]);
        if ((wishes.ValidWithinMetres ?? ReachFor(found, reasons)) is { } metres)
            keys.Add(("valid_within_m", $"{metres}"));

        if (wishes.Source is { } source)
            keys.Add(("source", Quoted(source)));
        else
            reasons.Add("source is left out; write where the grid comes from, and its licence.");

        return new EntryProposal([.. keys.Select((k, i) => $"{(i == 0 ? "- " : "  ")}{k.Key}: {k.Value}")], reasons);
    }

    // Only what the file says: whole numbers alone may be classes or counts.
    private static bool LooksLikeClasses(GridInspection found, List<string> reasons)
    {
        bool colours = found.Layer.Storage?.HasColours == true;
        reasons.Add(colours ? "kind is class: the file holds a table of colours or names for its values."
            : "kind is continuous: the file holds no table of colours or names, as classes have.");
        return colours;
    }

    private static string RuleFor(GridInspection found, bool isClass, List<string> reasons)
    {
        double width = found.Place!.CellMetres is { } cell ? Math.Max(cell.Width, cell.Height) : double.PositiveInfinity;
        bool fine = width < FineCellMetres;
        string rule = isClass ? (fine ? "mode" : "nearest") : fine ? "disc" : "bilinear";
        string size = double.IsInfinity(width) ? "of unknown size" : $"about {width:0} m wide";
        string why = fine ? "less than the uncertainty of many sites, so that the circle in which a site may lie counts"
            : isClass ? "and classes are never interpolated" : "wider than the uncertainty of most sites";
        reasons.Add($"rule is {rule}: cells are {size}, {why}.");
        return rule;
    }

    private static double? ReachFor(GridInspection found, List<string> reasons)
    {
        if (found.Values!.MissingShare == 0 || found.Place!.CellMetres is not { } cell)
            return null;

        double metres = Math.Min(500_000, Math.Ceiling(2 * Math.Max(cell.Width, cell.Height)));
        reasons.Add($"valid_within_m is {metres}: two cells, for sites on a shore; {found.Values.MissingShare:0.0 %} of the cells have no "
            + "value.");
        return metres;
    }

    /// <summary>A text as YAML reads it back: plain where that is safe.</summary>
    private static string Quoted(string text)
    {
        bool plain = text.Length > 0 && char.IsAsciiLetter(text[0])
            && text.All(c => char.IsAsciiLetterOrDigit(c) || c is '_' or '-' or '.' or '/' or ' ')
            && text[^1] != ' ' && text.ToLowerInvariant() is not ("null" or "true" or "false" or "yes" or "no" or "on" or "off");
        if (plain)
            return text;

        return $"\"{string.Concat(text.Select(c => c is '"' or '\\' ? $"\\{c}" : char.IsControl(c) ? $"\\u{(int)c:x4}" : $"{c}"))}\"";
    }
}
