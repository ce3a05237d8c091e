namespace DecayAtlas.Prediction.Maps;

/// <summary>
/// Predicts k or S over a region, tile by tile, to a GeoTIFF, a NetCDF file and a picture. Memory does not grow with the region: a
/// tile of 256 x 256 cells takes under 2 MB a covariate, the open grids together keep at most 96 MB of decoded
/// blocks (or two blocks each), and the picture at most 29 MB.
/// </summary>
public static class RateMap
{
    /// <summary>What a map says of itself, where an atlas keeps it beside the files that <see cref="MapQuantity"/> names.</summary>
    public const string SummaryName = "map.json";

    /// <summary>Makes the map. The files appear whole or not at all.</summary>
    /// <param name="covariates">Those the model needs are found by name, others are ignored.</param>
    /// <param name="progress">Told "Map", tiles done, tiles in all.</param>
    /// <exception cref="PredictionException">A covariate or the region does not fit the model, every cell is of a class that the model
    /// never saw, or a file cannot be written.</exception>
    /// <exception cref="GridException">A grid cannot be read or a file cannot be written.</exception>
    public static MapSummary Make(
        RateModel model, IReadOnlyList<CatalogueEntry> covariates, MapOptions options, MapFiles files,
        Action<string, int, int>? progress = null) =>
        WholeFiles.Write(files.All, partial =>
        {
            using RateSurface surface = new(model, covariates, options.Choices, options.Conditions);
            MapLattice lattice = MapLattice.Of(surface.Grids, options.Region, options.Crs, options.CellSize);
            surface.LayOut(lattice);
            ThinnedMap raster = new(lattice.Columns, lattice.Rows),
                widths = new(lattice.Columns, lattice.Rows, MapInset.MaximumSide);
            MapQuantity of = MapQuantity.Of(model.Card.Target);
            MapTally tally = new(lattice, of);
            MapTile tile = new(lattice, options.Region);
            Dictionary<string, string> provenance = MapBands.Provenance(model.Card, options.Choices);
            using (GeoTiffWriter tif = new(partial(files.Tif), lattice.Projection, lattice.Cells, MapBands.Tif(of),
                MapBands.TifTags(provenance, options.Title), overviews: true))
            using (NetCdfWriter? netCdf = files.NetCdf is null ? null
                : new NetCdfWriter(partial(files.NetCdf), lattice.Projection, lattice.Cells, MapBands.NetCdf(model.Card),
                    MapBands.NetCdfAttributes(provenance, options.Title,
                        $"model {model.Card.ModelId} trained on atlas release {model.Card.ReleaseId}",
                        $"made by the map stage of {provenance["software"]}")))
            {
                tile.ForEach(() =>
                {
                    surface.Predict(tile);
                    Add(tile, surface.Bands, of, tally, raster, widths);
                    tif.WriteTiles(tile.Column / MapTile.Size, tile.Row / MapTile.Size, surface.Bands.All);
                    netCdf?.WriteTiles(tile.Column / MapTile.Size, tile.Row / MapTile.Size, surface.Bands.All);
                }, (done, of) => progress?.Invoke("Map", done, of));
            }

            MapSummary summary = tally.Summary(model.Card.ModelId, surface.Resamplings, surface.EveryAsked) with
            {
                AsIf = options.Choices.ChosenFor(model.Card) is { Count: > 0 } chosen ? chosen : null,
                FromGrid = options.Choices.GridsFor(model.Card) is { Count: > 0 } grids ? grids : null,
                UnseenClasses = surface.UnseenClasses.Count > 0 ? surface.UnseenClasses : null,
            };
            if (summary is { Predicted: 0, UnseenClasses: { } unseen })
                throw EmptyOf(unseen);
            RateScale scale = RateScale.Of(raster) with { Ramp = of.Ramp, HasHalfLife = of.HasHalfLife };
            File.WriteAllBytes(partial(files.Png),
                MapPicture.Draw(raster, lattice, WordsOf(model.Card, of, options, summary), scale, options.Sites,
                    inset: InsetOf(widths, of)));
            return summary;
        });

    private static PredictionException EmptyOf(IReadOnlyDictionary<string, long> unseen) => PredictionException.OfRequest(
        "No cell can be predicted, for the model never saw the classes of the cells ("
        + string.Join(", ", unseen.OrderByDescending(c => c.Value).ThenBy(c => c.Key, StringComparer.Ordinal).Take(5).Select(c => c.Key))
        + "); take a class grid whose classes it knows, name its codes in the grid catalogue (classes), or state a class for all places "
        + "(map.as_if).");

    private static void Add(MapTile tile, TileBands bands, MapQuantity of, MapTally tally, ThinnedMap raster, ThinnedMap widths)
    {
        for (int y = 0; y < tile.Rows; y++)
        {
            for (int x = 0; x < tile.Columns; x++)
            {
                int at = y * MapTile.Size + x;
                float value = bands.Prediction[at];
                if (float.IsNaN(value))
                    continue;
                bool applicable = bands.Applicable[at] != 0;
                tally.Add(tile.Column + x, tile.Row + y, value, applicable);
                raster.Add(tile.Column + x, tile.Row + y, value, applicable);
                widths.Add(tile.Column + x, tile.Row + y, of.WidthOf(bands.Lower[at], bands.Upper[at]), applicable);
                if (!float.IsNaN(bands.WithoutNoted[at]))
                    tally.AddWithoutNoted(value, bands.WithoutNoted[at]);
            }
        }
    }

    /// <summary>How unsure the map is: of k the upper end of the interval over the lower, of S the upper less the lower.</summary>
    internal static MapInset InsetOf(ThinnedMap widths, MapQuantity of) => new(widths, RateScale.Of(widths) with { Ramp = Ramp.Unsure },
        $"How unsure: upper end of the interval of {of.Symbol} {(of.IsRatio ? "over" : "less")} its lower end");

    internal static MapWords WordsOf(ModelCard card, MapQuantity of, MapOptions options, MapSummary summary)
    {
        double rmse = card.WinnerScore().Blocked.Pooled.Rmse;
        string subtitle = ClassChoices.Heading(summary.AsIf)
            + $"Model {card.ModelId} · release {card.ReleaseId} · {card.Sites} training sites "
            + "· at unseen places typically "
            + (of.IsRatio ? Invariant($"off by a factor of {Math.Exp(rmse):0.00}") : Invariant($"off by {rmse:0.000}"));
        string caution = string.Join(' ',
            new[] { card.IsSupported ? null : card.Verdict, summary.Stabilisation?.OutOfRangeSentence(), MapBands.Caution }
                .OfType<string>());
        return new(options.Title, subtitle, caution)
        {
            Quantity = of.Heading,
            Unit = of.UnitInWords,
            Unpredicted = options.Region.Unpredicted,
            Times = options.TimesInWords,
        };
    }
}
