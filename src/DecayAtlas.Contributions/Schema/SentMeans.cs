namespace DecayAtlas.Contributions.Schema;

/// <summary>What a row of results says, in the terms of the equations.</summary>
public static class SentMeans
{
    /// <summary>What a row gives: ln k, k and S, or why there are none.</summary>
    public static MeanIndex Index(this ResultRow row, LotRow? fastLot, LotRow? slowLot, MeasurementAssumptions assumptions) =>
        row.Evidence == EvidenceKind.Summarised ? row.Means(fastLot, slowLot, assumptions).Index()
            : row.Report().Index(row.HydrolysableOf(fastLot, assumptions), row.HydrolysableOf(slowLot, assumptions));

    public static BurialMeans Means(this ResultRow row, LotRow? fastLot, LotRow? slowLot, MeasurementAssumptions assumptions)
    {
        return new BurialMeans(
            row.Burials, Of(row.FastRemainingMean, row.FastRemainingSd, fastLot, MissingReason.FastBagAbsent),
            Of(row.SlowRemainingMean, row.SlowRemainingSd, slowLot, MissingReason.SlowBagAbsent),
            row.RemainingCorrelation ?? 0, row.Exposure, row.ExposureSdDays);

        Computed<MeanFraction> Of(double? stated, double? sd, LotRow? lot, MissingReason absent)
        {
            if (stated is not { } mean)
                return absent;
            if (lot is null)
                return MissingReason.LotNotReported;
            Water dried = Water.Dried(assumptions.MoistureSd), initial = row.Basis switch
            {
                StatedBasis.Dry or StatedBasis.AshFree => dried,
                StatedBasis.Moist when lot.MoistureFraction is { } supplied =>
                    Water.OfLot(supplied, lot.MoistureFractionSd ?? assumptions.MoistureSd),
                _ => Water.Unspoken(lot.MoistureFraction, lot.MoistureFractionSd, assumptions),
            };
            RemainingFraction w = RemainingFraction.OfMean(mean, lot.Litter(), BasisOf(row), initial, dried, assumptions);
            // the scatter is that of the fractions as sent, and grows with them when water is taken off
            return new MeanFraction(w, sd * (1 - dried.Share) / (1 - initial.Share));
        }
    }

    public static ReportedMeans Report(this ResultRow row)
    {
        // an error that does not say what it is is none
        double? sdPerError = row.ErrorsAre switch { ErrorKind.Sd => 1, ErrorKind.Se => Math.Sqrt(row.Burials), _ => null };
        bool isKnown = row is { Method: ResultMethod.TwoLitter, Basis: StatedBasis.Dry or StatedBasis.AshFree };
        return new ReportedMeans(
            row.Burials, row.RatePerDay, row.RateErrorPerDay * sdPerError, row.Stabilisation, row.StabilisationError * sdPerError,
            row.Exposure, isKnown ? row.FastHydrolysableUsed : null, isKnown ? row.SlowHydrolysableUsed : null);
    }

    /// <summary>H of a lot on the basis of the row's masses; missing where there is none.</summary>
    public static Hydrolysable? HydrolysableOf(this ResultRow row, LotRow? lot, MeasurementAssumptions assumptions) =>
        lot is null ? null : Hydrolysable.Of(lot.Litter(), BasisOf(row), assumptions).Value;

    private static FractionBasis BasisOf(ResultRow row) =>
        row.Basis == StatedBasis.AshFree ? FractionBasis.AshFree : FractionBasis.Dry;
}
