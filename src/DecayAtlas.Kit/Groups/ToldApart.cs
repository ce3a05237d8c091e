namespace DecayAtlas.Kit.Groups;

/// <summary>What two places of a class experiment can show: a t test of ln k, holes within a place its replicates.</summary>
/// <param name="HolesEach">Holes in each place.</param>
/// <param name="SmallestRatio">The smallest ratio of k that is seen with a power of 80 %; missing where none is.</param>
/// <param name="ExpectedRatio">That of the warmth between the places.</param>
/// <param name="HolesNeeded">Holes in each place that would show that; missing where more than anybody digs.</param>
/// <param name="Scatter">Standard deviation of ln k between holes of a place.</param>
/// <param name="IsAssumed">Nobody has measured it.</param>
public sealed record ToldApart(
    int HolesEach, double? SmallestRatio, double? ExpectedRatio, int? HolesNeeded, double Scatter, bool IsAssumed)
{
    /// <summary>How many times as fast 10 °C more make it; a rule of thumb, no source.</summary>
    public const double PerTenDegrees = 2;

    private const int MostHoles = 2000;

    public bool IsEnough => SmallestRatio <= ExpectedRatio;

    public static ToldApart Of(int holes, SchoolExperiment? experiment)
    {
        double scatter = experiment?.ScatterOfLnK ?? HolesOfTwoPlaces.UsualScatter;
        int each = holes / 2;
        PlannedPower power = HolesOfTwoPlaces.PowerOf(each, scatter);
        double? expected = experiment?.DegreesApart is { } degrees ? degrees / 10 * Math.Log(PerTenDegrees) : null;
        return new ToldApart(each, each < 2 ? null : Ratio(power.SmallestDifference(HolesOfTwoPlaces.Power, each)), Ratio(expected),
            expected is { } difference ? power.FewestSites(difference, HolesOfTwoPlaces.Power, MostHoles) : null, scatter,
            experiment?.ScatterOfLnK is null);

        static double? Ratio(double? logarithm) => logarithm is { } x ? Math.Exp(x) : null;
    }

    /// <summary>The same in sentences.</summary>
    public IEnumerable<string> Sentences(SchoolExperiment? experiment, Phrases words)
    {
        if (SmallestRatio is not { } smallest)
        {
            yield return words["kit.tell.never"];
            yield break;
        }

        // rounded up: what is told must be seen
        yield return words.Say("kit.tell.smallest", HolesEach, words.Number(Math.Ceiling(10 * smallest) / 10, "0.0"));
        if (ExpectedRatio is { } ratio)
        {
            string degrees = words.Number(experiment!.DegreesApart), times = words.Number(ratio, "0.0#");
            yield return IsEnough ? words.Say("kit.tell.enough", degrees, times)
                : words.Say("kit.tell.too-few", degrees, times, HolesNeeded ?? MostHoles);
        }

        yield return words.Say(IsAssumed ? "kit.tell.assumed" : "kit.tell.known", words.Percent(Scatter));
        yield return words["kit.tell.places"];
    }
}
