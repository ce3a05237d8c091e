namespace DecayAtlas.Prediction.Maps;

/// <summary>One side of a difference: a model over the grids of a catalogue.</summary>
/// <param name="Name">What people call it, as "2050, dry".</param>
public sealed record RateSide(string Name, RateModel Model, IReadOnlyList<CatalogueEntry> Covariates)
{
    /// <summary>How classes come to its places.</summary>
    public ClassChoices Choices { get; init; } = ClassChoices.None;
}

/// <summary>What a difference map found.</summary>
/// <param name="Compared">Cells with a prediction on both sides.</param>
/// <param name="ApplicableOnBoth">Of these, inside the area of applicability on both sides.</param>
/// <param name="ToldApart">Of these, with an interval of the change that leaves out no change.</param>
/// <param name="MeanRatio">Of k: geometric mean of after over before by area, applicable cells; null without any.</param>
public sealed record DifferenceSummary(
    string Crs,
    GridLattice Lattice,
    long Compared,
    long ApplicableOnBoth,
    long ToldApart,
    double ComparedSquareKilometres,
    double ApplicableSquareKilometres,
    double? MeanRatio)
{
    /// <summary>Of S: mean of after less before by area, applicable cells; null without any.</summary>
    public double? MeanDifference { get; init; }

    public required DifferenceSource Before { get; init; }

    public required DifferenceSource After { get; init; }

    /// <summary>Area of the cells that are told apart.</summary>
    public required double ToldApartSquareKilometres { get; init; }

    /// <summary>Covariates whose grids differ between the sides.</summary>
    public required IReadOnlyList<string> Swapped { get; init; }
}

/// <summary>Where one side of a difference comes from.</summary>
/// <param name="WithoutNoted">How its model moves without noted burials.</param>
public sealed record DifferenceSource(string Name, string ModelId, string ReleaseId, string WithoutNoted)
{
    /// <summary>The class that every cell was taken for, by covariate; missing where none was chosen.</summary>
    public IReadOnlyDictionary<string, string>? AsIf { get; init; }

    internal static DifferenceSource Of(RateSide side) =>
        new(side.Name, side.Model.Card.ModelId, side.Model.Card.ReleaseId, side.Model.Card.NotedSentence())
        {
            AsIf = side.Choices.ChosenFor(side.Model.Card) is { Count: > 0 } chosen ? chosen : null,
        };
}

/// <summary>
/// Maps how what is predicted differs between two models, or between two sets of grids (two climates) under one model: k as a ratio, for
/// its errors are factors, and S as a difference.
/// </summary>
/// <remarks>Space is taken for time: what differs between places of two climates is taken for what a change of climate would do at one.
/// The interval of the change (<see cref="ChangeErrors"/>) holds how sure the model is of what it learnt so, and not whether a climate that
/// the sites never saw acts as the model thinks, which the layer applicable_on_both warns of, nor the error of the scenario
/// itself.</remarks>
public static class DifferenceMap
{
    public static IReadOnlyList<GeoTiffBand> Bands(MapQuantity of) => [.. Variables(of, "before", "after")
        .Select(v => new GeoTiffBand(v.Name, v.Unit, IsFlag: v.IsFlag))];

    public const string SpaceForTime =
        "Space is taken for time: the model saw places of different climates, and no place whose climate changed.";

    public const string PlacesForChange =
        "Other places stand for a change of class: sites of two classes differ in more than it, and the model saw none change.";

    /// <summary>Makes the map. The files appear whole or not at all.</summary>
    /// <param name="progress">Told "Difference", tiles done, tiles in all.</param>
    /// <exception cref="PredictionException">The models are of two targets, a covariate or the region does not fit a model, or a file
    /// cannot be written.</exception>
    /// <exception cref="GridException">A grid cannot be read or a file cannot be written.</exception>
    public static DifferenceSummary Make(RateSide before, RateSide after, MapOptions options, MapFiles files,
        Action<string, int, int>? progress = null)
    {
        if (before.Model.Card.Target != after.Model.Card.Target)
        {
            throw new PredictionException($"Model {before.Model.Card.ModelId} predicts {OfSide(before).Symbol} and model "
                + $"{after.Model.Card.ModelId} {OfSide(after).Symbol}, and what is compared must be the same; name two models of one.");
        }

        return Write(before, after, OfSide(before), options, files, progress);
    }

    private static MapQuantity OfSide(RateSide side) => MapQuantity.Of(side.Model.Card.Target);

    private static DifferenceSummary Write(RateSide before, RateSide after, MapQuantity of, MapOptions options, MapFiles files,
        Action<string, int, int>? progress) =>
        WholeFiles.Write(files.All, partial =>
        {
            using RateSurface first = new(before.Model, before.Covariates, before.Choices, options.Conditions);
            using RateSurface second = new(after.Model, after.Covariates, after.Choices, options.Conditions);
            MapLattice lattice = MapLattice.Of([.. first.Grids, .. second.Grids], options.Region, options.Crs, options.CellSize);
            first.LayOut(lattice);
            second.LayOut(lattice);
            DifferenceBands bands = new(of.IsRatio);
            DifferenceTally tally = new(lattice, of);
            ThinnedMap raster = new(lattice.Columns, lattice.Rows);
            Dictionary<string, string> provenance = Provenance(before, after);
            MapTile tile = new(lattice, options.Region);
            using (GeoTiffWriter tif = new(partial(files.Tif), lattice.Projection, lattice.Cells, Bands(of),
                MapBands.TifTags(provenance, options.Title), overviews: true))
            using (NetCdfWriter? netCdf = files.NetCdf is null ? null
                : new NetCdfWriter(partial(files.NetCdf), lattice.Projection, lattice.Cells, Variables(of, before.Name, after.Name),
                    MapBands.NetCdfAttributes(provenance, options.Title,
                        $"models {provenance["before_model_id"]} and {provenance["after_model_id"]}",
                        $"made by the command difference of {provenance["software"]}")))
            {
                tile.ForEach(() =>
                {
                    first.Predict(tile);
                    second.Predict(tile);
                    bands.Fill(tile, first, second);
                    tally.Add(tile, bands, raster);
                    tif.WriteTiles(tile.Column / MapTile.Size, tile.Row / MapTile.Size, bands.All);
                    netCdf?.WriteTiles(tile.Column / MapTile.Size, tile.Row / MapTile.Size, bands.All);
                }, (done, of) => progress?.Invoke("Difference", done, of));
            }

            File.WriteAllBytes(partial(files.Png),
                MapPicture.Draw(raster, lattice, Words(before, after, options), RateScale.OfChange(raster, of.IsRatio), options.Sites));
            return tally.Summary(before, after);
        });

    private static Dictionary<string, string> Provenance(RateSide before, RateSide after) => new()
    {
        ["before"] = before.Name,
        ["before_model_id"] = before.Model.Card.ModelId,
        ["before_release_id"] = before.Model.Card.ReleaseId,
        ["after"] = after.Name,
        ["after_model_id"] = after.Model.Card.ModelId,
        ["after_release_id"] = after.Model.Card.ReleaseId,
        ["swapped"] = string.Join(' ', SwappedOf(before, after)),
        ["software"] = "DecayAtlas " + after.Model.Card.CodeVersion,
        ["caution"] = string.Join(' ', [.. CautionsOf(before, after), MapBands.Caution]),
    };

    /// <summary>Covariates of either model that do not come from the same grid, or that both take as if of different classes.</summary>
    internal static IReadOnlyList<string> SwappedOf(RateSide before, RateSide after) =>
        [.. before.Model.Card.Covariates.Concat(after.Model.Card.Covariates).Select(c => c.Name).Distinct()
            .Where(name =>
                !Equals(before.Covariates.FirstOrDefault(e => e.Name == name), after.Covariates.FirstOrDefault(e => e.Name == name))
                || IsOfOtherClass(before, after, name))];

    /// <summary>What one must know of the change, by what is swapped between the sides; nothing where only the models differ.</summary>
    public static IReadOnlyList<string> CautionsOf(DifferenceSummary summary) => CautionsOf(summary.Swapped,
        [.. summary.Swapped.Where(name => summary.Before.AsIf?.GetValueOrDefault(name) != summary.After.AsIf?.GetValueOrDefault(name))]);

    private static IReadOnlyList<string> CautionsOf(RateSide before, RateSide after) => CautionsOf(SwappedOf(before, after),
        [.. SwappedOf(before, after).Where(name => IsOfOtherClass(before, after, name))]);

    private static IReadOnlyList<string> CautionsOf(IReadOnlyList<string> swapped, IReadOnlyList<string> classes) =>
    [
        .. new[] { PlacesForChange }.Where(_ => classes.Count > 0),
        .. new[] { SpaceForTime }.Where(_ => swapped.Count > classes.Count),
    ];

    /// <summary>Whether a class is swapped; what one of two models alone takes is a part of that model.</summary>
    private static bool IsOfOtherClass(RateSide before, RateSide after, string covariate) =>
        new[] { before, after }.All(side => side.Model.Card.Covariates.Any(c => c.Name == covariate))
        && ChosenIn(before, covariate) != ChosenIn(after, covariate);

    private static string? ChosenIn(RateSide side, string covariate) =>
        side.Choices.ChosenFor(side.Model.Card).GetValueOrDefault(covariate);

    private static List<NetCdfVariable> Variables(MapQuantity of, string before, string after)
    {
        string change = of.IsRatio ? "ratio" : "difference";
        return
        [
            new($"{of.Band}_before", of.Unit, $"predicted {of.LongName}, {before}"),
            new($"{of.Band}_after", of.Unit, $"predicted {of.LongName}, {after}"),
            new(change, "1", $"{of.Band}_after {(of.IsRatio ? "over" : "less")} {of.Band}_before"),
            new(change + "_lower", "1", $"lower end of the interval of {change}, from the members of the models"),
            new(change + "_upper", "1", $"upper end of the interval of {change}, from the members of the models"),
            new("applicable_on_both", "1", "inside the area of applicability on both sides (Meyer and Pebesma 2021)", IsFlag: true),
            new("told_apart", "1", $"the interval of {change} leaves out {(of.IsRatio ? 1 : 0)}", IsFlag: true),
        ];
    }

    /// <summary>The name of a side and its model, which is said once.</summary>
    private static string WithModel(RateSide side) => side.Name.Contains(side.Model.Card.ModelId, StringComparison.Ordinal) ? side.Name
        : $"{side.Name} (model {side.Model.Card.ModelId})";

    private static MapWords Words(RateSide before, RateSide after, MapOptions options) => new(
        options.Title,
        $"{WithModel(after)} over {WithModel(before)}",
        string.Join(' ', [.. CautionsOf(before, after), MapBands.Caution]))
    {
        Quantity = "Change of " + OfSide(after).Symbol,
        Unit = OfSide(after).IsRatio ? "ratio after / before" : "difference after − before",
        Unpredicted = options.Region.Unpredicted,
        Times = options.TimesInWords,
    };
}
