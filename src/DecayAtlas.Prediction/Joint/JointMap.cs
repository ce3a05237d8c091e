namespace DecayAtlas.Prediction.Joint;

/// <summary>A map that was made, and its model's card.</summary>
public sealed record JointSide(string TifPath, ModelCard Card);

/// <summary>The files of a joint map.</summary>
/// <param name="Labels">Names of the classes for GDAL: the name of the GeoTIFF with <c>.aux.xml</c> after it.</param>
public sealed record JointFiles(string Tif, string Labels, string Png)
{
    public const string TifName = "joint.tif", LabelsName = TifName + ".aux.xml", PngName = "joint.png", SummaryName = "joint.json";

    public static JointFiles In(string folder) =>
        new(Path.Combine(folder, TifName), Path.Combine(folder, LabelsName), Path.Combine(folder, PngName));
}

/// <summary>
/// Puts the maps of k and S together: fast or slow, little or much left. It is made of the two maps as they were written, a tile at a time,
/// so that it takes no more memory for a larger map.
/// </summary>
public static class JointMap
{
    /// <summary>Grows when other files or bytes come of the same two maps.</summary>
    public const int Version = 2;

    public const string ByConstruction =
        "k and S are computed from the same loss of the fast litter, so their errors go together: fast with much left and slow with little "
        + "left come out more often than they are.";

    /// <summary>The link to the newest, beside those of the maps of one quantity.</summary>
    public const string Link = MadeFolder.DefaultLink + "-joint";

    private const int MostAsked = 1_000_000;

    public static IReadOnlyList<GeoTiffBand> Bands { get; } =
        [new("class", "", IsClass: true), new("told", "1", IsFlag: true), new("applicable", "1", IsFlag: true)];

    /// <summary>Makes the map. The files appear whole or not at all.</summary>
    /// <param name="progress">Told "Joint map", tiles done, tiles in all.</param>
    /// <exception cref="PredictionException">The two maps have other cells, or nothing to cut: too few cells in common, or one value
    /// everywhere.</exception>
    /// <exception cref="GridException">A map cannot be read or a file cannot be written.</exception>
    public static JointSummary Make(JointSide rate, JointSide stabilisation, MapOptions options, JointFiles files,
        Action<string, int, int>? progress = null) =>
        WholeFiles.Write([files.Tif, files.Labels, files.Png], partial =>
        {
            using MapReader rates = new(rate.TifPath, MapQuantity.DecayRate);
            using MapReader shares = new(stabilisation.TifPath, MapQuantity.Stabilisation);
            if (rates.Lattice.Cells != shares.Lattice.Cells || !rates.Lattice.Projection.IsSameAs(shares.Lattice.Projection))
            {
                throw PredictionException.OfRequest("The maps of k and of S have other cells, so that they cannot be laid on one another; "
                    + "train both on the same covariates or state cell_size and crs.");
            }

            JointTiles tiles = new(rates, shares);
            (JointCuts cuts, int every) = CutsOf(tiles);
            MapLattice lattice = rates.Lattice;
            JointCells picture = new(lattice.Columns, lattice.Rows);
            JointTally tally = new(lattice, cuts, every);
            IReadOnlyDictionary<string, string>? chosen = ChosenFor(rate.Card, stabilisation.Card, options.Choices);
            Dictionary<string, string> provenance = Provenance(rate.Card, stabilisation.Card, cuts);
            if (chosen is not null)
                provenance[MapBands.AsIf] = ClassChoices.Sentence(chosen);
            float[][] bands = [.. Bands.Select(_ => MapTile.NewBand())];
            using (GeoTiffWriter tif = new(partial(files.Tif), lattice.Projection, lattice.Cells, Bands,
                MapBands.TifTags(provenance, options.Title), overviews: true))
            {
                tiles.ForEach(tile =>
                {
                    foreach (float[] band in bands)
                        Array.Fill(band, float.NaN);
                    tiles.EachCell((cell, at) =>
                    {
                        JointClass of = cuts.ClassOf(cell.Rate, cell.Stabilisation);
                        bool isTold = cuts.Tells(cell.RateLower, cell.RateUpper, cell.Lower, cell.Upper);
                        (bands[0][at], bands[1][at], bands[2][at]) = (of.Code, isTold ? 1 : 0, cell.IsApplicable ? 1 : 0);
                        picture.Add(cell.Column, cell.Row, of, isTold, cell.IsApplicable);
                        tally.Add(cell, of, isTold);
                    });
                    tif.WriteTiles(tile.Column / MapTile.Size, tile.Row / MapTile.Size, bands);
                }, (done, of) => progress?.Invoke("Joint map", done, of));
            }

            File.WriteAllText(partial(files.Labels), RasterLabels.Xml(JointClass.All));
            File.WriteAllBytes(partial(files.Png), MapPicture.Draw(picture, picture.Shows(), new JointKey(cuts), lattice,
                Words(rate.Card, stabilisation.Card, options, ClassChoices.Heading(chosen)), options.Sites));
            return tally.Summary(rate.Card, stabilisation.Card) with { AsIf = chosen };
        });

    private static (JointCuts Cuts, int Every) CutsOf(JointTiles tiles)
    {
        int every = (int)Math.Ceiling(Math.Sqrt(Math.Max(1, tiles.Lattice.Count / (double)MostAsked)));
        List<double> rates = [], shares = [];
        tiles.ForEach(_ => tiles.EachCell((cell, _) =>
        {
            if (!cell.IsApplicable || cell.Column % every != 0 || cell.Row % every != 0)
                return;
            rates.Add(cell.Rate);
            shares.Add(cell.Stabilisation);
        }), (_, _) => { });
        if (rates.Count < 2 || rates.Min() == rates.Max() || shares.Min() == shares.Max())
        {
            throw PredictionException.OfRequest(rates.Count < 2
                ? "No two cells are applicable on the maps of k and of S, so there is nothing to cut into classes."
                : $"{(rates.Min() == rates.Max() ? "k" : "S")} is predicted the same in every applicable cell, so "
                + "there is nothing to cut into classes.");
        }

        return (new(Quantiles.Of(Quantiles.Sort(rates), 0.5), Quantiles.Of(Quantiles.Sort(shares), 0.5)), every);
    }

    private static Dictionary<string, string>? ChosenFor(ModelCard rate, ModelCard stabilisation, ClassChoices choices) =>
        choices.ChosenFor(rate).Concat(choices.ChosenFor(stabilisation)).DistinctBy(c => c.Key)
            .ToDictionary(StringComparer.Ordinal) is { Count: > 0 } chosen ? chosen : null;

    private static Dictionary<string, string> Provenance(ModelCard rate, ModelCard stabilisation, JointCuts cuts) => new(
        JointClass.All.Select(c => new KeyValuePair<string, string>($"class_{c.Code}", c.Words)))
    {
        ["k_model_id"] = rate.ModelId,
        ["s_model_id"] = stabilisation.ModelId,
        ["release_id"] = rate.ReleaseId,
        ["cut_k_per_day"] = Invariant($"{cuts.RatePerDay:R}"),
        ["cut_half_life_days"] = Invariant($"{cuts.HalfLifeDays:R}"),
        ["cut_s"] = Invariant($"{cuts.Stabilisation:R}"),
        ["told"] = "1 where the intervals of k and of S both lie on one side of their cuts",
        ["half_life"] = HalfLife.Meaning,
        ["software"] = "DecayAtlas " + rate.CodeVersion,
        ["caution"] = $"{ByConstruction} {MapBands.Caution}",
    };

    private static MapWords Words(ModelCard rate, ModelCard stabilisation, MapOptions options, string asIf) => new(
        options.Title, $"{asIf}Models {rate.ModelId} (k) and {stabilisation.ModelId} (S) · release {rate.ReleaseId}",
        $"{ByConstruction} {MapBands.Caution}")
    {
        Quantity = "k and S together",
        Unit = "cut at the medians of the map",
        Unpredicted = options.Region.Unpredicted,
        Times = options.TimesInWords,
    };
}
