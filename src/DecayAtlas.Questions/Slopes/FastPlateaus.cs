namespace DecayAtlas.Questions.Slopes;

/// <summary>Rates as they are where the fast litter is not taken to have reached its plateau (<see cref="FastPlateau"/>), row by row at the
/// mean of each: fast and slow places are then not off by different amounts.</summary>
internal static class FastPlateaus
{
    /// <summary>Rows that no k agrees with are left out; those whose days are not known stay as they are.</summary>
    /// <param name="fastOverSlow">The fast litter's rate over that of the slow one, above 1.</param>
    public static ReleasedRates Corrected(ReleasedRates rates, double fastOverSlow)
    {
        return rates.With([.. rates.Rows.Select(Corrected).OfType<ReleasedPlot>()]);

        ReleasedPlot? Corrected(ReleasedPlot row)
        {
            if ((row.LnRateMean ?? row.LnRateAtLeast) is not { } lnRate || row.StabilisationMean is not { } s || s >= 1
                || row.ExposureDaysMean is not > 0)
            {
                return row;
            }

            FastPlateau plateau = FastPlateau.Of(s, Math.Exp(lnRate), row.ExposureDaysMean.Value, fastOverSlow);
            if (plateau.RatePerDay is not { } rate)
                return null;
            return row with
            {
                LnRateMean = row.LnRateMean is null ? null : Math.Log(rate),
                LnRateAtLeast = row.LnRateAtLeast is null ? null : Math.Log(rate),
                StabilisationMean = plateau.StabilisationFactor,
            };
        }
    }
}
