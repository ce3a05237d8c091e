namespace DecayAtlas.Grids.Catalogue;

/// <summary>Twelve monthly values of a place, read from layers or computed from such.</summary>
/// <param name="Months">From latitude and the values of the layers to twelve values, January first.</param>
internal sealed record MonthlyProfile(IReadOnlyList<LayerSource> Layers, Func<double, ArraySegment<double?>, IReadOnlyList<double?>> Months)
{
    /// <summary>The profile of a covariate; null where it has no months.</summary>
    public static MonthlyProfile? Of(CatalogueEntry entry) => entry.Making switch
    {
        MonthlyClimatology { Statistic: not TimeStatistic.DegreeDays } months =>
            new MonthlyProfile(months.Months, static (_, values) => values),
        Derivation derivation => derivation.Rule.Profile(derivation.Inputs),
        _ => null,
    };
}
