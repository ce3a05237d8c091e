namespace DecayAtlas.Grids.Inspection;

/// <summary>
/// Looks for the mistakes that catalogues have. Every grid is opened and its values looked at (at most
/// <see cref="GridStatistics.MostCells"/> cells for each covariate), so that the cost is bounded by the number of covariates.
/// </summary>
public static class CatalogueCheck
{
    /// <summary>Finds what is wrong; the order is that of the catalogue.</summary>
    /// <param name="sites">Where sites lie, which the grids should reach; empty leaves that out.</param>
    /// <exception cref="GridException">There is no such file.</exception>
    /// <param name="remote">What may be read over the network; nothing unless stated.</param>
    public static IReadOnlyList<CatalogueFinding> Of(string path, IReadOnlyList<GeoPoint> sites, RemoteGrids? remote = null)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(sites);
        IReadOnlyList<CatalogueEntry> entries;
        try
        {
            entries = GridCatalogue.Load(path, remote).Entries;
        }
        catch (GridException e) when (File.Exists(path))
        {
            return [new CatalogueFinding("catalogue", null, e.Message)];
        }

        List<CatalogueFinding> findings = [];
        SiteReach reach = new(sites);
        for (int i = 0; i < entries.Count; i++)
        {
            findings.AddRange(OfEntry(entries[i], reach));
            if (entries.Take(i).FirstOrDefault(other => IsSameData(other, entries[i])) is { } twin)
            {
                findings.Add(new CatalogueFinding("same-data", entries[i].Name,
                    $"it reads the same numbers as {twin.Name}; correct file, band, variable or select, or take one of the two out."));
            }
        }

        findings.AddRange(MonthCheck.Of(entries));
        findings.AddRange(reach.Findings());
        return findings;
    }

    public static IReadOnlyList<CatalogueFinding> OfEntry(CatalogueEntry entry) => OfEntry(entry, new SiteReach([]));

    private static List<CatalogueFinding> OfEntry(CatalogueEntry entry, SiteReach reach)
    {
        ArgumentNullException.ThrowIfNull(entry);
        List<CatalogueFinding> findings = [];
        // What is computed from others has no file of its own.
        IReadOnlyList<LayerSource> layers = entry.Made.Declared;
        for (int i = 0; i < layers.Count; i++)
        {
            string of = layers[i].Name.Length == 0 ? "" : $"{layers[i].Name}: ";
            foreach (CatalogueFinding found in OfLayer(entry, layers[i], GridStatistics.MostCells / layers.Count, i == 0 ? reach : null))
            {
                // Twelve months with one mistake are told once.
                if (!findings.Any(f => f.Code == found.Code))
                    findings.Add(found with { Sentence = of + found.Sentence });
            }
        }

        return findings;
    }

    private static List<CatalogueFinding> OfLayer(CatalogueEntry entry, LayerSource source, long mostCells, SiteReach? reach)
    {
        List<CatalogueFinding> findings = [];
        try
        {
            if (source.Attribute is not null)
            {
                reach?.Add(entry, source);
                return findings;
            }

            // A series is looked at in its first step.
            GridReadOptions options = entry.Made is DatedSeries ? GridInspection.Opening(source.Path, source.Options).Options
                : source.Options;
            GridLayer? layer = LayerOf(source);
            using Grid grid = GridFile.Open(source.Path, options);
            findings.AddRange(Unit(entry, source, layer));
            CatalogueEntry seen = entry with { Scale = options.Scale, Offset = options.Offset };
            findings.AddRange(ValueCheck.Of(seen, layer, GridStatistics.Of(grid, mostCells)));
            reach?.Add(entry, grid);
        }
        catch (GridException e)
        {
            string code = e.Message.Contains(GeometryCheck.NamesNone, StringComparison.Ordinal) ? "crs-missing" : "unreadable";
            findings.Add(new CatalogueFinding(code, entry.Name, e.Message.Replace(entry.Owner + ": ", "", StringComparison.Ordinal)));
        }

        return findings;
    }

    private static GridLayer? LayerOf(LayerSource source) => GridFile.Describe(source.Path, source.Options.Remote).Layers.FirstOrDefault(
        l => l.Variable is null ? l.Band == source.Options.Band : source.Options.Variable is null || l.Variable == source.Options.Variable);

    private static IEnumerable<CatalogueFinding> Unit(CatalogueEntry entry, LayerSource source, GridLayer? layer)
    {
        if (!entry.IsClass && entry.Unit.Trim().Length == 0)
        {
            yield return new CatalogueFinding("unit-missing", entry.Name, layer?.Unit is { Length: > 0 } said
                ? $"it has no unit, and the file says {said}; write unit: \"{said}\", if that is so."
                : "it has no unit; write the unit of the numbers after the source, or unit: \"1\" for a pure number.");
        }

        if (entry.Made is OneLayer && Quantity.UnitOf(entry.Unit) is { } stated && Quantity.UnitOf(layer?.Unit) is { } file
            && stated != file && source.Options.Scale is null && source.Options.Offset is null)
        {
            yield return new CatalogueFinding("unit-differs", entry.Name,
                $"the file says {layer!.Unit} and the catalogue {entry.Unit}, with no scale or offset between them; "
                + "correct unit, or write the scale and offset that turn one into the other.");
        }
    }

    private static bool IsSameData(CatalogueEntry a, CatalogueEntry b) =>
        a.Made is OneLayer { Layer.Options: var one } && b.Made is OneLayer { Layer.Options: var other }
        && a.Path == b.Path && one.Band == other.Band && one.Variable == other.Variable && one.Steps == other.Steps;
}
