namespace DecayAtlas.Decomposition.Burials;

/// <summary>
/// Signed change of a result for one standard uncertainty of each quantity of one litter that bags share. Bags that share one move
/// together, so these are averaged with their signs before they are squared. The nine are independent of one another.
/// </summary>
/// <param name="Hydrolysable">Of the lot: its hydrolysable share.</param>
/// <param name="Ash">Of the lot: its ash share, wherever it enters (remaining fraction, basis of H).</param>
/// <param name="Tare">Of the lot: the mean tare.</param>
/// <param name="LotMoisture">Of the lot: the water it was supplied with.</param>
/// <param name="InitialWater">Of the batch: water in the litter at the first weighing.</param>
/// <param name="FinalWater">Of the batch: water that drying left before the second.</param>
/// <param name="Balance">Of the batch: what its balance reads too much, the same for both litters.</param>
/// <param name="InitialWaterRange">In place of InitialWater where only a range is known: rectangular.</param>
/// <param name="FinalWaterRange">So of FinalWater.</param>
public readonly record struct LitterErrors(
    double Hydrolysable = 0, double Ash = 0, double Tare = 0, double LotMoisture = 0,
    double InitialWater = 0, double FinalWater = 0, double Balance = 0, double InitialWaterRange = 0, double FinalWaterRange = 0)
{
    public static LitterErrors operator *(double factor, LitterErrors e) => new(
        factor * e.Hydrolysable, factor * e.Ash, factor * e.Tare, factor * e.LotMoisture,
        factor * e.InitialWater, factor * e.FinalWater, factor * e.Balance, factor * e.InitialWaterRange, factor * e.FinalWaterRange);

    public static LitterErrors operator +(LitterErrors a, LitterErrors b) => new(
        a.Hydrolysable + b.Hydrolysable, a.Ash + b.Ash, a.Tare + b.Tare, a.LotMoisture + b.LotMoisture,
        a.InitialWater + b.InitialWater, a.FinalWater + b.FinalWater, a.Balance + b.Balance,
        a.InitialWaterRange + b.InitialWaterRange, a.FinalWaterRange + b.FinalWaterRange);

    public static LitterErrors Multiply(double factor, LitterErrors errors) => factor * errors;

    public static LitterErrors Add(LitterErrors left, LitterErrors right) => left + right;

    internal double LotProduct(LitterErrors other) =>
        Hydrolysable * other.Hydrolysable + Ash * other.Ash + Tare * other.Tare + LotMoisture * other.LotMoisture;

    /// <summary>Without the balance, which both litters share.</summary>
    internal double WaterProduct(LitterErrors other) => InitialWater * other.InitialWater + FinalWater * other.FinalWater
        + InitialWaterRange * other.InitialWaterRange + FinalWaterRange * other.FinalWaterRange;
}

/// <summary>What a burial's result shares with other burials, by litter.</summary>
public readonly record struct SharedErrors(LitterErrors Fast, LitterErrors Slow)
{
    /// <summary>Standard uncertainty from the lots (chemistry, mean tare, water as supplied).</summary>
    public double UncertaintyLot => Math.Sqrt(LotCovariance(this));

    /// <summary>Standard uncertainty from the batch (water, drying, balance), both bags being of one batch.</summary>
    public double UncertaintyBatch => Math.Sqrt(BatchCovariance(this));

    public static SharedErrors operator *(double factor, SharedErrors e) => new(factor * e.Fast, factor * e.Slow);

    public static SharedErrors Multiply(double factor, SharedErrors errors) => factor * errors;

    /// <summary>Covariance of two results of one burial from what its lots share.</summary>
    public double LotCovariance(SharedErrors other) => Fast.LotProduct(other.Fast) + Slow.LotProduct(other.Slow);

    /// <summary>Covariance of two results of one burial from what its batch shares.</summary>
    public double BatchCovariance(SharedErrors other) =>
        Fast.WaterProduct(other.Fast) + Slow.WaterProduct(other.Slow)
        + (Fast.Balance + Slow.Balance) * (other.Fast.Balance + other.Slow.Balance);
}
