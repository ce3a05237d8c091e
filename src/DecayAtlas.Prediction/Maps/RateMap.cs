using System.Globalization;
using DecayAtlas.Grids;
using DecayAtlas.Prediction.Pictures;

namespace DecayAtlas.Prediction;

/// <summary>
/// Predicts the decay rate over a region, tile by tile, to a GeoTIFF and a picture. Memory does not grow with the region: a
/// tile of 256 x 256 cells takes 12 bytes a covariate and cell (under 1 MB a covariate; one that must be resampled takes
/// about 20 MB more while it is read), each open grid keeps at most <see cref="Grid.CacheBytes"/> of decoded blocks, and the
/// picture at most 23 MB.
/// </summary>
public static class RateMap
{
    private const int Tile = GeoTiffWriter.TileSize;

    /// <summary>Bands of the GeoTIFF.</summary>
    public static IReadOnlyList<GeoTiffBand> Bands { get; } = [new("decay_rate", "d-1"), new("within_training_range", "")];

    /// <summary>Makes the map. The files appear whole or not at all.</summary>
    /// <param name="model">What predicts.</param>
    /// <param name="covariates">Catalogue entries; those the model needs are found by name, others are ignored.</param>
    /// <param name="region">Where; null maps the area all needed grids share. A region that reaches beyond it is cut to it, and the summary says so.</param>
    /// <param name="options">Title and sites of the picture.</param>
    /// <param name="tifPath">GeoTIFF of two bands: decay_rate (d⁻¹, missing where any covariate is) and within_training_range (1 or 0; missing where there is no prediction).</param>
    /// <param name="pngPath">The picture.</param>
    /// <param name="progress">Told "Map", tiles done, tiles in all.</param>
    /// <exception cref="PredictionException">A covariate or the region does not fit the model, or a file cannot be written.</exception>
    /// <exception cref="GridException">A grid cannot be read or the GeoTIFF cannot be written.</exception>
    public static MapSummary Make(
        RateModel model,
        IReadOnlyList<CatalogueEntry> covariates,
        BoundingBox? region,
        MapOptions options,
        string tifPath,
        string pngPath,
        Action<string, int, int>? progress = null)
    {
        var entries = model.Card.Covariates.Select(c => EntryFor(c, covariates)).ToList();
        var grids = new List<Grid>();
        string partialTif = tifPath + ".partial", partialPng = pngPath + ".partial";
        try
        {
            foreach (string path in new[] { tifPath, pngPath })
                Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(path))!);
            foreach (var entry in entries)
                grids.Add(entry.Open());
            var (lattice, clipped) = MapLattice.Of([.. grids.Select(g => g.Geometry)], region);
            var layers = grids.Zip(entries, (g, e) => new CovariateLayer(g, e.Rule, lattice)).ToList();
            var raster = new MapRaster(lattice.Columns, lattice.Rows);
            var tally = new MapTally();
            using (var writer = new GeoTiffWriter(partialTif, lattice, Bands, TagsOf(model.Card, options)))
                PredictTiles(model, layers, lattice, writer, raster, tally, progress);

            var extent = new BoundingBox(lattice.WestDegrees, lattice.SouthDegrees, lattice.EastDegrees, lattice.NorthDegrees);
            File.WriteAllBytes(partialPng, MapPicture.Draw(raster, extent, WordsOf(model.Card, options), options.Sites));
            File.Move(partialTif, tifPath, overwrite: true);
            File.Move(partialPng, pngPath, overwrite: true);
            return tally.Summary(lattice, clipped);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new PredictionException($"The map cannot be written to '{tifPath}' and '{pngPath}' ({e.Message.TrimEnd('.')}); check the folder, its rights and the free space.", e);
        }
        finally
        {
            grids.ForEach(g => g.Dispose());
            foreach (string partial in new[] { partialTif, partialPng })
                if (File.Exists(partial))
                    File.Delete(partial);
        }
    }

    private static void PredictTiles(
        RateModel model, List<CovariateLayer> layers, GridGeometry lattice, GeoTiffWriter writer, MapRaster raster, MapTally tally, Action<string, int, int>? progress)
    {
        var block = new PredictionTile(model, Tile * Tile);
        float[] rates = new float[Tile * Tile], within = new float[Tile * Tile];
        int tiles = writer.TilesAcross * writer.TilesDown, done = 0;
        for (int tileRow = 0; tileRow < writer.TilesDown; tileRow++)
        {
            for (int tileColumn = 0; tileColumn < writer.TilesAcross; tileColumn++)
            {
                int column = tileColumn * Tile, row = tileRow * Tile;
                int columns = Math.Min(Tile, lattice.Columns - column), rows = Math.Min(Tile, lattice.Rows - row);
                for (int c = 0; c < layers.Count; c++)
                    layers[c].Read(column, row, columns, rows, block.Covariates[c]);
                block.Predict(columns * rows);

                Array.Fill(rates, float.NaN);
                Array.Fill(within, float.NaN);
                for (int cell = 0; cell < columns * rows; cell++)
                {
                    int y = cell / columns, x = cell % columns;
                    float rate = block.RatesPerDay[cell];
                    tally.Add(rate, block.Within[cell]);
                    if (float.IsNaN(rate))
                        continue;
                    rates[y * Tile + x] = rate;
                    within[y * Tile + x] = block.Within[cell] ? 1 : 0;
                    raster.Add(column + x, row + y, rate, block.Within[cell]);
                }
                writer.WriteTile(0, tileColumn, tileRow, rates);
                writer.WriteTile(1, tileColumn, tileRow, within);
                progress?.Invoke("Map", ++done, tiles);
            }
        }
    }

    private static CatalogueEntry EntryFor(CardCovariate covariate, IReadOnlyList<CatalogueEntry> catalogue)
    {
        var entry = catalogue.FirstOrDefault(e => e.Name == covariate.Name)
            ?? throw new PredictionException($"The model needs covariate '{covariate.Name}' ({covariate.Title}), which the grid catalogue does not have; add it or train a model without it.");
        if (entry.Unit != covariate.Unit)
            throw new PredictionException($"Covariate '{covariate.Name}' was trained in unit '{covariate.Unit}' but the grid catalogue gives '{entry.Unit}'; use the grid of the training or set its scale, offset and unit.");
        if (entry.IsClass)
            throw new PredictionException($"Covariate '{covariate.Name}' is a class grid whose codes are names, not quantities, and cannot feed this model; leave it out of the model's covariates.");
        return entry;
    }

    private static Dictionary<string, string> TagsOf(ModelCard card, MapOptions options) => new()
    {
        ["TITLE"] = options.Title,
        ["MODEL_ID"] = card.ModelId,
        ["RELEASE_ID"] = card.ReleaseId,
        ["SOFTWARE"] = "DecayAtlas " + card.CodeVersion,
        ["CAUTION"] = Caution,
    };

    private const string Caution = "Modelled from site measurements and gridded covariates; no basis for regulation, fertiliser or carbon-credit decisions.";

    private static MapWords WordsOf(ModelCard card, MapOptions options)
    {
        double factor = Math.Exp(card.WinnerScore().Blocked.Pooled.Rmse);
        string subtitle = string.Create(
            CultureInfo.InvariantCulture,
            $"Model {card.ModelId} · release {card.ReleaseId} · {card.Sites} training sites · at unseen places typically off by a factor of {factor:0.00}");
        string caution = card.IsSupported ? Caution : $"{card.Verdict} {Caution}";
        return new(options.Title, subtitle, caution);
    }
}
