namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>One bag's weighings made ready for drawing.</summary>
internal readonly struct DrawnBag
{
    private readonly double _initial, _final, _resolution, _ashBag, _ashLot, _ashBagSd, _ashLotSd, _moistureSd;

    public DrawnBag(BagWeighing bag, LitterLot lot, MeasurementAssumptions assumptions)
    {
        bool isGross = bag.Basis == MassBasis.Gross;
        double tare = isGross ? lot.TareGrams!.Value : 0;
        _initial = bag.MassInitialGrams!.Value - tare;
        _final = bag.MassFinalGrams!.Value - tare;
        _resolution = bag.BalanceResolutionGrams ?? assumptions.BalanceResolutionGrams;
        _moistureSd = bag.MoistureSd;
        TareSd = isGross ? lot.TareSdGrams ?? assumptions.TareSdGrams : 0;
        IsAshFree = bag.AshFraction is not null && lot.AshFraction is not null;
        if (IsAshFree)
        {
            _ashBag = bag.AshFraction!.Value;
            _ashLot = lot.AshFraction!.Value;
            _ashBagSd = assumptions.AshFractionSd;
            _ashLotSd = lot.AshFractionSd ?? assumptions.AshFractionSd;
        }
    }

    public double TareSd { get; }

    public bool IsAshFree { get; }

    public bool HasMoisture => _moistureSd > 0;

    /// <summary>One draw of w: two readings from the stream, and standard normal numbers for tare, moisture and ash.</summary>
    public double Fraction(RandomStream readings, double tare, double moisture, double ashBag, double ashLot)
    {
        double initial = _initial + _resolution * (readings.NextUniform() - 0.5) - TareSd * tare;
        double final = _final + _resolution * (readings.NextUniform() - 0.5) - TareSd * tare;
        double w = final / initial;
        if (_moistureSd > 0)
            w *= 1 + _moistureSd * moisture;
        return IsAshFree ? w * (1 - _ashBag - _ashBagSd * ashBag) / (1 - _ashLot - _ashLotSd * ashLot) : w;
    }
}
