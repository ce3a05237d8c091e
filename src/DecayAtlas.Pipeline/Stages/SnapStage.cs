namespace DecayAtlas.Pipeline.Stages;

/// <summary>
/// Sites, burials and sampled grids -> one value a site for covariates of the place, and one a burial for covariates that depend on
/// when and how deep the bags lay, each with where it came from.
/// </summary>
public static class SnapStage
{
    /// <summary>The values, by site and covariate, and by burial and covariate.</summary>
    public sealed record Output(IReadOnlyList<CovariateValue> Values, IReadOnlyList<BurialCovariate> OfBurials) : IStageOutput
    {
        public string Sentence =>
            $"{Values.Count(v => v.IsKnown) + OfBurials.Count(v => v.Value.IsKnown)} of {Values.Count + OfBurials.Count} covariate values found";
    }

    internal static Output Run(IReadOnlyList<Site> sites, IReadOnlyList<Burial> burials, IReadOnlyList<GridInput> grids, double bagHeightCentimetres, SnapMemory snapped)
    {
        GridInput[] ordered = [.. grids.OrderBy(g => g.Entry.Name, StringComparer.Ordinal)];
        (GridInput Grid, CovariateRecipe Recipe)[] ofPlaces = [.. ordered.Where(g => !g.Entry.DependsOnBurial).Select(g => (g, g.Entry.RecipeFor(BurialConditions.None)))];
        Dictionary<string, Site> byKey = sites.ToDictionary(s => s.Key, StringComparer.Ordinal);
        // replicates lay there on the same days and at the same depth: what they felt is worked out once
        var recipes = new Dictionary<(GridInput, BurialConditions), CovariateRecipe>();
        var values = new Dictionary<(GridInput, BurialConditions, string), CovariateValue>();
        GridInput[] ofBurials = [.. ordered.Where(g => g.Entry.DependsOnBurial)];
        return new Output(
            [.. sites.SelectMany(site => ofPlaces.Select(g => SnappedValue.Of(site, g.Grid, g.Recipe, snapped)))],
            [.. burials.SelectMany(burial => ofBurials.Select(grid => new BurialCovariate(burial.Header.ContributionId, burial.BurialId, Felt(burial, grid))))]);

        CovariateValue Felt(Burial burial, GridInput grid)
        {
            BurialConditions conditions = ConditionsOf(burial, bagHeightCentimetres);
            if (!values.TryGetValue((grid, conditions, burial.SiteKey), out CovariateValue? value))
            {
                if (!recipes.TryGetValue((grid, conditions), out CovariateRecipe? recipe))
                    recipes[(grid, conditions)] = recipe = grid.Entry.RecipeFor(conditions);
                values[(grid, conditions, burial.SiteKey)] = value = SnappedValue.Of(byKey[burial.SiteKey], grid, recipe, snapped);
            }

            return value;
        }
    }

    private static BurialConditions ConditionsOf(Burial burial, double bagHeightCentimetres) => new(
        burial.RetrievedOn > burial.BuriedOn ? new ExposureDays(burial.BuriedOn, burial.RetrievedOn!.Value) : null,
        burial.Lead.Row.DepthCentimetres,
        bagHeightCentimetres);
}
