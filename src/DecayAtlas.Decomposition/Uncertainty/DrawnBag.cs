namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>One bag's weighings made ready for drawing.</summary>
internal readonly struct DrawnBag
{
    private readonly double _initial, _final, _resolution, _ashBag, _ashLot, _ashBagSd, _ashLotSd, _tareMeanSd, _balanceSd;
    private readonly Water _initialWater, _finalWater;

    public DrawnBag(BagWeighing bag, LitterLot lot, FractionBasis basis, MeasurementAssumptions assumptions)
    {
        bool isGross = bag.Basis == MassBasis.Gross;
        double tare = isGross ? lot.TareGrams!.Value : 0;
        _initial = bag.MassInitialGrams!.Value - tare;
        _final = bag.MassFinalGrams!.Value - tare;
        _resolution = bag.BalanceResolutionGrams ?? assumptions.BalanceResolutionGrams;
        _initialWater = bag.InitialWater;
        _finalWater = bag.FinalWater;
        _balanceSd = assumptions.BalanceOffsetSdGrams;
        MassInitialSd = bag.MassInitialSdGrams;
        MassFinalSd = bag.MassFinalSdGrams;
        TareSd = isGross ? lot.TareSdGrams ?? assumptions.TareSdGrams : 0;
        _tareMeanSd = isGross ? assumptions.TareMeanSdGrams : 0;
        IsAshFree = basis == FractionBasis.AshFree;
        if (IsAshFree)
        {
            _ashBag = bag.AshFraction!.Value;
            _ashLot = lot.AshFraction!.Value;
            _ashBagSd = assumptions.AshFractionSd;
            _ashLotSd = lot.AshFractionSd ?? assumptions.AshFractionSd;
        }
    }

    public double TareSd { get; }

    private double MassInitialSd { get; }

    private double MassFinalSd { get; }

    public bool IsMean => MassInitialSd > 0 || MassFinalSd > 0;

    public bool IsAshFree { get; }

    /// <summary>One draw of w: two readings from the stream, standard normal numbers for tare, ash and masses of the bag, and the
    /// draws of its lot and batch.</summary>
    public double Fraction(RandomStream readings, double tare, double ashBag, (double Initial, double Final) masses, LotDraw lot,
        BatchDraw batch)
    {
        double added = _balanceSd * batch.Balance - TareSd * tare - _tareMeanSd * lot.Tare;
        double initial = _initial + _resolution * (readings.NextUniform() - 0.5) + added + MassInitialSd * masses.Initial;
        double final = _final + _resolution * (readings.NextUniform() - 0.5) + added + MassFinalSd * masses.Final;
        double w = final * (1 - _finalWater.Share - _finalWater.SdBatch * batch.FinalWater.Of(_finalWater))
            / (initial * (1 - _initialWater.Share - _initialWater.SdBatch * batch.InitialWater.Of(_initialWater)
                - _initialWater.SdLot * lot.Moisture));
        return IsAshFree ? w * (1 - _ashBag - _ashBagSd * ashBag) / (1 - _ashLot - _ashLotSd * lot.Ash) : w;
    }
}

/// <summary>One draw of what a lot's bags share, each standard normal.</summary>
internal readonly record struct LotDraw(double Hydrolysable, double Ash, double Tare, double Moisture);

/// <summary>One draw of what a batch's bags of one litter share; the balance is the same for both litters.</summary>
internal readonly record struct BatchDraw(WaterDraw InitialWater, WaterDraw FinalWater, double Balance);

/// <summary>One draw of a water share, in standard uncertainties, for either of the two shapes.</summary>
/// <param name="Uniform">Between 0 and 1.</param>
internal readonly record struct WaterDraw(double Normal, double Uniform)
{
    public double Of(Water water) => water.IsRange ? Math.Sqrt(12) * (Uniform - 0.5) : Normal;
}
