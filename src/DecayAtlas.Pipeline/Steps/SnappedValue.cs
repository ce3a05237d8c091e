namespace DecayAtlas.Pipeline.Steps;

/// <summary>The sample of a layer at a place.</summary>
internal delegate LayerSample SampleAt(GridInput grid, LayerSource layer, SnapPlace place);

/// <summary>The samples of the layers of a recipe at a site -> one value with where it came from.</summary>
internal static class SnappedValue
{
    public static CovariateValue Of(Site site, GridInput grid, CovariateRecipe recipe, SampleAt sampleAt)
    {
        CatalogueEntry entry = grid.Entry;
        if (recipe.Gap != RecipeGap.None)
        {
            return new CovariateValue(site.Key, entry.Name, null, entry.Unit, "", AtlasCode.Of(recipe.Gap), null, grid.AllFingerprints)
            {
                CoveredShare = recipe.Gap == RecipeGap.NotCovered ? recipe.CoveredShare : null,
                Formula = entry.Made.Formula,
            };
        }

        LayerSample[] layers = [
            .. recipe.Layers.Select(l => sampleAt(grid, l, new SnapPlace(site.ExactPoint, site.Row.CoordinateUncertaintyMetres)))];
        GridSample[] samples = [.. layers.Select(l => l.Sample)];
        RecipeValue value = layers is [{ Label: { } label, Sample: var unit }]
            ? entry.IsClass && unit.Value is null ? new RecipeValue(null, label) : new RecipeValue(unit.Value, entry.IsClass ? label : null)
            : recipe.Combine(Latitude(site), [.. samples.Select(s => s.Value ?? double.NaN)]);
        bool isOneLayer = entry.Made is OneLayer;
        return new CovariateValue(
            site.Key, entry.Name, value.Number, entry.Unit,
            string.Join(',', samples.Select(s => AtlasCode.Of(s.Rule)).Distinct().Order(StringComparer.Ordinal)),
            StatusOf(value, layers), samples.Max(s => s.DistanceMetres), grid.FingerprintsOf(recipe.Layers))
        {
            Label = value.Label,
            StandardDeviation = samples is [var only] ? only.StandardDeviation : null,
            ValidShare = samples.Min(s => s.ValidShare),
            CoveredShare = isOneLayer || entry.Made is Derivation { DependsOnBurial: false } ? null : recipe.CoveredShare,
            Layers = recipe.Explanation(),
            Formula = entry.Made.Formula,
        };
    }

    // An impossible latitude lies on no grid, so that the formula is never asked for its day length.
    private static double Latitude(Site site) => Math.Clamp(site.ExactPoint.LatitudeDegrees, -90, 90);

    private static string StatusOf(RecipeValue value, LayerSample[] layers)
    {
        if (value.Number is not null || value.Label is not null)
        {
            return AtlasCode.Of(layers.Any(l => l.Sample.Status == SampleStatus.NearestValid) ? SampleStatus.NearestValid
                : SampleStatus.Sampled);
        }

        return layers.Any(l => l.Sample.Status == SampleStatus.Outside) ? AtlasCode.Of(SampleStatus.Outside)
            : layers.Any(l => l.Sample.Status == SampleStatus.Missing) ? AtlasCode.Of(SampleStatus.Missing)
            : Undefined;
    }

    /// <summary>Status of a value that the formula does not have there.</summary>
    public const string Undefined = "undefined";
}
