namespace DecayAtlas.Pipeline.Steps;

/// <summary>The sample of a layer at a place.</summary>
internal delegate LayerSample SampleAt(GridInput grid, LayerSource layer, SnapPlace place);

/// <summary>The samples of the layers of a recipe at a site -> one value with where it came from.</summary>
internal static class SnappedValue
{
    public static ReleasedCovariate Of(Site site, GridInput grid, CovariateRecipe recipe, SampleAt sampleAt)
    {
        CatalogueEntry entry = grid.Entry;
        ReleasedCovariate unknown = new()
        {
            SiteKey = site.Key,
            Covariate = entry.Name,
            Unit = entry.Unit,
            IsClass = entry.IsClass,
            Formula = entry.Made.Formula,
        };
        if (recipe.Gap != RecipeGap.None)
        {
            return unknown with
            {
                Status = AtlasCode.Of(recipe.Gap),
                GridFingerprint = grid.AllFingerprints,
                CoveredShare = recipe.Gap == RecipeGap.NotCovered ? recipe.CoveredShare : null,
            };
        }

        SnapPlace place = new(site.ExactPoint, site.Row.CoordinateUncertaintyMetres);
        LayerSample[] layers = [.. recipe.Layers.Select(l => sampleAt(grid, l, place))];
        GridSample[] samples = [.. layers.Select(l => l.Sample)];
        RecipeValue value = layers is [{ Label: { } label, Sample: var unit }]
            ? entry.IsClass && unit.Value is null ? new RecipeValue(null, label) : new RecipeValue(unit.Value, entry.IsClass ? label : null)
            : recipe.Combine(Latitude(site), [.. samples.Select(s => s.Value ?? double.NaN)]);
        if (value is { Number: { } code, Label: null } && entry.NameOf(code) is { } name)
            value = value with { Label = name };
        return unknown with
        {
            Value = value.Number,
            Label = value.Label,
            LabelIri = entry.Words is { } list ? Vocabulary.Of(list).IriOf(value.Label) : null,
            Rule = string.Join(',', samples.Select(s => AtlasCode.Of(s.Rule)).Distinct().Order(StringComparer.Ordinal)),
            Status = StatusOf(value, samples),
            DistanceMetres = samples.Max(s => s.DistanceMetres),
            GridFingerprint = grid.FingerprintsOf(recipe.Layers),
            StandardDeviation = samples is [var only] ? only.StandardDeviation : null,
            ValidShare = samples.Min(s => s.ValidShare),
            CoveredShare = entry.Made is OneLayer or Derivation { DependsOnBurial: false } ? null : recipe.CoveredShare,
            Layers = recipe.Explanation(),
        };
    }

    // An impossible latitude lies on no grid, so that the formula is never asked for its day length.
    private static double Latitude(Site site) => Math.Clamp(site.ExactPoint.LatitudeDegrees, -90, 90);

    private static string StatusOf(RecipeValue value, GridSample[] samples)
    {
        return value.Number is not null || value.Label is not null
            ? AtlasCode.Of(Has(SampleStatus.NearestValid) ? SampleStatus.NearestValid : SampleStatus.Sampled)
            : Has(SampleStatus.Outside) ? AtlasCode.Of(SampleStatus.Outside)
            : Has(SampleStatus.Missing) ? AtlasCode.Of(SampleStatus.Missing)
            : "undefined";   // the formula has no value there

        bool Has(SampleStatus status) => samples.Any(s => s.Status == status);
    }
}
