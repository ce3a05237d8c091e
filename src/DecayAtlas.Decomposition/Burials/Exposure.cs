namespace DecayAtlas.Decomposition.Burials;

/// <summary>The time a bag lay in the soil.</summary>
/// <param name="UncertaintyDays">Standard uncertainty (d).</param>
public readonly record struct Exposure(double Days, double UncertaintyDays)
{
    /// <summary>Each date is rectangular over its half width a, u = a/√3 (JCGM 100:2008, 4.3.7), and the two are independent.</summary>
    public static Exposure Between(DateOnly buriedOn, DateOnly retrievedOn, MeasurementAssumptions assumptions) =>
        new(retrievedOn.DayNumber - buriedOn.DayNumber, assumptions.DateHalfWidthDays * Math.Sqrt(2.0 / 3.0));
}
