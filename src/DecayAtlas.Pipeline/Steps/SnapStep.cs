namespace DecayAtlas.Pipeline.Steps;

/// <summary>
/// Sites, burials and sampled grids -> one value a site for covariates of the place, and one a burial for covariates that depend on
/// when and how deep the bags lay, each with where it came from.
/// </summary>
public static class SnapStep
{
    /// <summary>The values, by site and covariate, and by burial and covariate.</summary>
    public sealed record Output(IReadOnlyList<ReleasedCovariate> Values, IReadOnlyList<BurialCovariate> OfBurials);

    internal static Output Run(IReadOnlyList<Site> sites, IReadOnlyList<Burial> burials, IReadOnlyList<GridInput> grids,
        double bagHeightCentimetres, SampleAt sampleAt)
    {
        GridInput[] ordered = [.. grids.OrderBy(g => g.Entry.Name, StringComparer.Ordinal)];
        (GridInput Grid, CovariateRecipe Recipe)[] ofPlaces = [.. ordered.Where(g => !g.Entry.DependsOnBurial)
            .Select(g => (g, g.Entry.RecipeFor(BurialConditions.None)))];
        Dictionary<string, Site> byKey = sites.ToDictionary(s => s.Key, StringComparer.Ordinal);
        // replicates lay there on the same days and at the same depth: what they felt is worked out once
        Dictionary<(GridInput, BurialConditions), CovariateRecipe> recipes = new();
        Dictionary<(GridInput, BurialConditions, string), ReleasedCovariate> values = new();
        GridInput[] ofBurials = [.. ordered.Where(g => g.Entry.DependsOnBurial)];
        return new Output(
            [.. sites.SelectMany(site => ofPlaces.Select(g => SnappedValue.Of(site, g.Grid, g.Recipe, sampleAt)))],
            [.. burials.SelectMany(burial =>
                ofBurials.Select(grid => new BurialCovariate(burial.Header.ContributionId, burial.BurialId, ValueOf(burial, grid))))]);

        ReleasedCovariate ValueOf(Burial burial, GridInput grid)
        {
            BurialConditions conditions = ConditionsOf(burial, bagHeightCentimetres);
            if (!values.TryGetValue((grid, conditions, burial.SiteKey), out ReleasedCovariate? value))
            {
                if (!recipes.TryGetValue((grid, conditions), out CovariateRecipe? recipe))
                    recipes[(grid, conditions)] = recipe = grid.Entry.RecipeFor(conditions);
                values[(grid, conditions, burial.SiteKey)] = value = SnappedValue.Of(byKey[burial.SiteKey], grid, recipe, sampleAt);
            }

            return value;
        }
    }

    private static BurialConditions ConditionsOf(Burial burial, double bagHeightCentimetres) => new(
        burial.RetrievedOn > burial.BuriedOn ? new ExposureDays(burial.BuriedOn, burial.RetrievedOn!.Value) : null,
        burial.Lead.Row.DepthCentimetres,
        bagHeightCentimetres);
}
