using System.Globalization;

namespace DecayAtlas.Grids.Formats.Cf;

/// <summary>The days that one step of a time axis stands for: from the first up to, and not including, the second.</summary>
/// <param name="Number">Its place in the file, from 1.</param>
internal readonly record struct DatedStep(int Number, DateOnly From, DateOnly Before)
{
    public int Length => Before.DayNumber - From.DayNumber;
}

/// <summary>
/// Turns the time axis of a NetCDF variable into days of the calendar that burials are dated in (CF conventions 1.11, sections
/// 4.4 and 7.1). Steps with bounds stand for the days between them. Without bounds, steps that lie in months of their own stand
/// for those months, and steps a day apart for days; anything else is refused.
/// </summary>
internal static class CfDates
{
    /// <param name="dimension">The dimension; null finds the one that counts time.</param>
    /// <exception cref="GridException">The file cannot be read, or its time axis cannot be put into dates.</exception>
    public static (string Dimension, IReadOnlyList<DatedStep> Steps) Read(string path, string? variable, string? dimension)
    {
        if (!CdfFile.RecognisesAny(GridFormat.HeadOf(path)))
        {
            throw new GridException(
                $"{path} is no NetCDF file, and a dated series is read from one; for twelve files or bands write months:.");
        }

        try
        {
            using CdfFile file = CdfFile.OpenAny(path);
            CdfVariable series = CfSlice.Choose(file, variable);
            CfAxis[] times = [.. series.Dimensions.Select(d => CfAxis.Of(file, d))
                .Where(a => a.Kind == AxisKind.Time && (dimension is null || a.Dimension.Name == dimension))];
            return times.Length == 1
                ? (times[0].Dimension.Name, StepsOf(path, file, times[0]))
                : throw new GridException(
                    $"{path}: {series.Name} has {times.Length} dimensions {(dimension is null ? "" : $"{dimension} ")}that count time, "
                    + $"and one was expected; its dimensions are {string.Join(", ", series.Dimensions.Select(d => d.Name))}.");
        }
        catch (IOException e)
        {
            throw GridException.Unreadable(path, e);
        }
    }

    private static DatedStep[] StepsOf(string path, CdfFile file, CfAxis axis)
    {
        string calendar = axis.Variable!.Text("calendar")?.Trim().ToLowerInvariant() ?? "standard";
        CalendarDay[] days = [.. axis.Days(file)];
        DatedStep[] steps = axis.Bounds(file) is { } bounds
            ? [.. days.Select((_, i) =>
                new DatedStep(i + 1, DateOf(path, bounds[i].From, calendar), DateOf(path, bounds[i].Before, calendar)))]
            : AreMonths(days)
                ? [.. days.Select((d, i) => Month(path, i + 1, d))]
                : Days(path, axis, days, calendar);
        DatedStep[] ordered = [.. steps.OrderBy(s => s.From)];
        if (steps.FirstOrDefault(s => s.Length < 1) is { Number: > 0 } empty)
        {
            throw new GridException($"{path}: step #{empty.Number} of {axis.Dimension.Name} stands for less than a day "
                + $"({Text(empty.From)}); make daily or monthly values of it, for example with cdo daymean.");
        }

        for (int i = 0; i + 1 < ordered.Length; i++)
        {
            if (ordered[i].Before > ordered[i + 1].From)
            {
                throw new GridException($"{path}: steps #{ordered[i].Number} and #{ordered[i + 1].Number} of {axis.Dimension.Name} "
                    + $"share days from {Text(ordered[i + 1].From)} on; every day may be in one step only.");
            }
        }

        return steps;
    }

    private static bool AreMonths(CalendarDay[] days) =>
        days.Length > 1 && days.Zip(days.Skip(1)).All(p => Index(p.Second) > Index(p.First))
        && days.Select(Index).Distinct().Count() == days.Length
        // two days on either side of the new month are days, not months
        && days.Zip(days.Skip(1)).All(p => (Index(p.Second) - Index(p.First)) * 31 + p.Second.Day - p.First.Day > 20);

    private static int Index(CalendarDay day) => day.Year * 12 + day.Month - 1;

    private static DatedStep Month(string path, int number, CalendarDay day)
    {
        DateOnly first = DateOf(path, day with { Day = 1 }, "standard");
        return new DatedStep(number, first, first.AddMonths(1));
    }

    private static DatedStep[] Days(string path, CfAxis axis, CalendarDay[] days, string calendar)
    {
        DateOnly[] dates = [.. days.Select(d => DateOf(path, d, calendar))];
        bool daily = dates.Length > 1 && dates.Zip(dates.Skip(1)).Any(p => p.Second.DayNumber - p.First.DayNumber == 1)
            && dates.Zip(dates.Skip(1)).All(p => p.Second > p.First);
        if (!daily)
        {
            throw new GridException(
                $"{path}: the {dates.Length} steps of {axis.Dimension.Name} are neither days nor months "
                + $"({string.Join(", ", days.Take(3))}), and no bounds say how long each lasts; add bounds, for example with cdo "
                + "setreftime and settbounds.");
        }

        // A calendar without leap days has no value for the 29th of February: the day before stands for it.
        bool skipsLeapDays = calendar is "noleap" or "365_day";
        return
        [
            .. dates.Select((d, i) => new DatedStep(
                i + 1, d, skipsLeapDays && d is { Month: 2, Day: 28 } && DateTime.IsLeapYear(d.Year) ? d.AddDays(2) : d.AddDays(1))),
        ];
    }

    // The first of a month is a day in every calendar; other days only in those that run as the year does.
    private static DateOnly DateOf(string path, CalendarDay day, string calendar) =>
        day.Year is < 1 or > 9998
            ? throw new GridException($"{path} holds the day {day}, and years from 1 to 9998 were expected.")
            : day.Day == 1 || calendar is "standard" or "gregorian" or "proleptic_gregorian" or "noleap" or "365_day" or ""
                ? new DateOnly(day.Year, day.Month, day.Day)
                : throw new GridException(
                    $"{path} counts days in the calendar {calendar}, whose {day} is no day that a bag can be buried on; make monthly "
                    + "values of it, for example with cdo monmean.");

    private static string Text(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
