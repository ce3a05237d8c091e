namespace DecayAtlas.Grids.Exposure;

/// <summary>The days of an exposure that fall into one month.</summary>
/// <param name="Year">Year.</param>
/// <param name="Month">Month, 1 to 12.</param>
/// <param name="Days">Days of the exposure in it.</param>
/// <param name="DaysInMonth">Days that the month has.</param>
public readonly record struct ExposedMonth(int Year, int Month, int Days, int DaysInMonth);

/// <summary>A value that holds from one day up to, and not including, another.</summary>
public readonly record struct DatedValue(DateOnly From, DateOnly Before, double? Value);

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
    public IReadOnlyList<ExposedMonth> Months()
    {
        List<ExposedMonth> months = [];
        for (DateOnly first = new(BuriedOn.Year, BuriedOn.Month, 1); first < RetrievedOn && Count > 0; first = first.AddMonths(1))
        {
            int length = DateTime.DaysInMonth(first.Year, first.Month);
            int from = Math.Max(first.DayNumber, BuriedOn.DayNumber);
            int before = Math.Min(first.DayNumber + length, RetrievedOn.DayNumber);
            months.Add(new ExposedMonth(first.Year, first.Month, before - from, length));
            if (first.Year == 9999 && first.Month == 12)
                break; // the calendar ends here
        }

        return months;
    }

    /// <summary>Mean of a monthly climatology (January first), each month weighted by its days; null where a needed month is
    /// missing.</summary>
    public double? Mean(IReadOnlyList<double?> climatology) => Total(climatology, static m => m.Days) / Count;

    /// <summary>Sum of monthly totals such as precipitation, each month by the share of its days; null where a needed month is
    /// missing.</summary>
    public double? Sum(IReadOnlyList<double?> monthlyTotals) => Total(monthlyTotals, static m => m.Days / (double)m.DaysInMonth);

    /// <summary>
    /// Degree-days above a base from monthly means: days x max(0, mean - base). Months whose days fall on both sides of the
    /// base get fewer than daily temperatures would give.
    /// </summary>
    public double? DegreeDays(IReadOnlyList<double?> monthlyMeansCelsius, double baseCelsius) =>
        Total([.. monthlyMeansCelsius.Select(t => t is { } mean ? Math.Max(0, mean - baseCelsius) : (double?)null)], static m => m.Days);

    /// <summary>Mean of a dated series, weighted by shared days; null where the series does not cover every day of the exposure.</summary>
    public double? Mean(IReadOnlyList<DatedValue> series) => Shared(series, (value, days, _) => value * days) / Count;

    /// <summary>Sum of a dated series of totals, each by the share of its days; null where the series does not cover every day.</summary>
    public double? Sum(IReadOnlyList<DatedValue> series) => Shared(series, (value, days, length) => value * days / length);

    /// <summary>Degree-days above a base from a dated series of means.</summary>
    public double? DegreeDays(IReadOnlyList<DatedValue> series, double baseCelsius) =>
        Shared(series, (value, days, _) => Math.Max(0, value - baseCelsius) * days);

    private double? Total(IReadOnlyList<double?> months, Func<ExposedMonth, double> weight)
    {
        ArgumentNullException.ThrowIfNull(months);
        ArgumentOutOfRangeException.ThrowIfNotEqual(months.Count, 12, nameof(months));
        double sum = 0;
        foreach (ExposedMonth month in Months())
        {
            if (months[month.Month - 1] is not { } value)
                return null;

            sum += value * weight(month);
        }

        return Count > 0 ? sum : null;
    }

    private double? Shared(IReadOnlyList<DatedValue> series, Func<double, int, int, double> term)
    {
        ArgumentNullException.ThrowIfNull(series);
        double sum = 0;
        int covered = 0;
        int last = int.MinValue;
        foreach (DatedValue step in series.OrderBy(s => s.From))
        {
            int days = Math.Min(RetrievedOn.DayNumber, step.Before.DayNumber) - Math.Max(BuriedOn.DayNumber, step.From.DayNumber);
            if (step.From.DayNumber < last || step.Before <= step.From)
                throw new GridException($"The steps of a series overlap at {step.From:yyyy-MM-dd} or have no days.");

            last = step.Before.DayNumber;
            if (days > 0)
            {
                if (step.Value is not { } value)
                    return null;

                sum += term(value, days, step.Before.DayNumber - step.From.DayNumber);
                covered += days;
            }
        }

        return Count > 0 && covered == Count ? sum : null;
    }
}
