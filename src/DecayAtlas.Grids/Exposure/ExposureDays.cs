namespace DecayAtlas.Grids.Exposure;

/// <summary>The days of an exposure that fall into one month, 1 to 12, and how many that month has.</summary>
internal readonly record struct ExposedMonth(int Month, int Days, int DaysInMonth);

/// <summary>
/// What a bag felt while it was buried. The day of burial counts, the day of retrieval does not, so that the days are
/// those between the two dates: a bag from 20 May to 18 August felt 12 days of May, 30 of June, 31 of July and 17 of
/// August, 90 in all.
/// </summary>
public sealed record ExposureDays(DateOnly BuriedOn, DateOnly RetrievedOn)
{
    /// <summary>Days of the exposure; not above 0 where the bag was retrieved on the day of its burial or, by mistake, before.</summary>
    public int Count => RetrievedOn.DayNumber - BuriedOn.DayNumber;

    /// <summary>The months touched, in order.</summary>
    internal IReadOnlyList<ExposedMonth> Months()
    {
        List<ExposedMonth> months = [];
        for (DateOnly first = new(BuriedOn.Year, BuriedOn.Month, 1); first < RetrievedOn && Count > 0; first = first.AddMonths(1))
        {
            int length = DateTime.DaysInMonth(first.Year, first.Month);
            int from = Math.Max(first.DayNumber, BuriedOn.DayNumber);
            int before = Math.Min(first.DayNumber + length, RetrievedOn.DayNumber);
            months.Add(new ExposedMonth(first.Month, before - from, length));
            if (first is { Year: 9999, Month: 12 })
                break; // the calendar ends here
        }

        return months;
    }

    /// <summary>Mean of a monthly climatology (January first), each month weighted by its days; null where a needed month is
    /// missing.</summary>
    internal double? Mean(IReadOnlyList<double?> climatology) => Total(climatology, static m => m.Days) / Count;

    /// <summary>Sum of monthly totals such as precipitation, each month by the share of its days; null where a needed month is
    /// missing.</summary>
    internal double? Sum(IReadOnlyList<double?> monthlyTotals) => Total(monthlyTotals, static m => m.Days / (double)m.DaysInMonth);

    private double? Total(IReadOnlyList<double?> months, Func<ExposedMonth, double> weight)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(months.Count, 12, nameof(months));
        double? sum = 0;
        foreach (ExposedMonth month in Months())
            sum += months[month.Month - 1] * weight(month);

        return Count > 0 ? sum : null;
    }
}
