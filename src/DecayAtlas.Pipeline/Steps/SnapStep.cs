namespace DecayAtlas.Pipeline.Steps;

/// <summary>
/// Sites, burials and sampled grids -> one value a site for covariates of the place, and one a burial for covariates that depend on
/// when and how deep the bags lay, each with where it came from.
/// </summary>
public static class SnapStep
{
    /// <summary>The values, by site and covariate, and by burial and covariate.</summary>
    public sealed record Output(IReadOnlyList<ReleasedCovariate> Values, IReadOnlyList<BurialCovariate> OfBurials)
    {
        /// <summary>Of means that stand for burials, by the id of their row.</summary>
        public IReadOnlyList<BurialCovariate> OfResults { get; init; } = [];
    }

    internal static Output Run(IndexStep.Output index, IReadOnlyList<GridInput> grids, double bagHeightCentimetres, SampleAt sampleAt)
    {
        GridInput[] ordered = [.. grids.OrderBy(g => g.Entry.Name, StringComparer.Ordinal)];
        (GridInput Grid, CovariateRecipe Recipe)[] ofPlaces = [.. ordered.Where(g => !g.Entry.DependsOnBurial)
            .Select(g => (g, g.Entry.RecipeFor(BurialConditions.None)))];
        Dictionary<string, Site> byKey = index.Sites.ToDictionary(s => s.Key, StringComparer.Ordinal);
        // replicates lay there on the same days and at the same depth: what they felt is worked out once
        Dictionary<(GridInput, BurialConditions), CovariateRecipe> recipes = new();
        Dictionary<(GridInput, BurialConditions, string), ReleasedCovariate> values = new();
        GridInput[] ofBurials = [.. ordered.Where(g => g.Entry.DependsOnBurial)];
        return new Output(
            [.. index.Sites.SelectMany(site => ofPlaces.Select(g => SnappedValue.Of(site, g.Grid, g.Recipe, sampleAt)))],
            [.. index.Burials.SelectMany(burial => ofBurials.Select(grid => new BurialCovariate(
                burial.Header.ContributionId, burial.BurialId,
                ValueOf(burial.SiteKey, Conditions(burial.BuriedOn, burial.RetrievedOn, burial.Lead.Row.DepthCentimetres), grid))))])
        {
            OfResults = [.. index.Results.SelectMany(result => ofBurials.Select(grid => new BurialCovariate(
                result.Header.ContributionId, result.Row.ResultId,
                ValueOf(result.SiteKey, Conditions(result.Row.BuriedOn, result.Row.LastDay, result.Row.DepthCentimetres), grid))))],
        };

        BurialConditions Conditions(DateOnly buriedOn, DateOnly? retrievedOn, double? depthCentimetres) => new(
            retrievedOn > buriedOn ? new ExposureDays(buriedOn, retrievedOn.Value) : null, depthCentimetres, bagHeightCentimetres);

        ReleasedCovariate ValueOf(string siteKey, BurialConditions conditions, GridInput grid)
        {
            if (!values.TryGetValue((grid, conditions, siteKey), out ReleasedCovariate? value))
            {
                if (!recipes.TryGetValue((grid, conditions), out CovariateRecipe? recipe))
                    recipes[(grid, conditions)] = recipe = grid.Entry.RecipeFor(conditions);
                values[(grid, conditions, siteKey)] = value = SnappedValue.Of(byKey[siteKey], grid, recipe, sampleAt);
            }

            return value;
        }
    }
}
