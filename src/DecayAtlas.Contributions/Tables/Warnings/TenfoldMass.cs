namespace DecayAtlas.Contributions.Tables.Warnings;

/// <summary>A mass of a bag that fits no bag of its lot, and would with its decimal sign one or two places on.</summary>
/// <param name="Meant">What was likely meant, in grams.</param>
/// <param name="Usual">What a bag of the lot weighs, where it is the first mass that is off.</param>
/// <param name="Most">What it weighed at first, where it is the last mass.</param>
public sealed record TenfoldMass(bool IsFinal, double Found, double Meant, double? Usual, double? Most)
{
    private static readonly double[] Powers = [10, 100, 0.1];

    // of the nominal mass: what a bag of the lot may weigh, far from ten times as much (common practice, no source)
    private const double LeastOfNominal = 0.7, MostOfNominal = 1.4;

    /// <summary>Of what is not hydrolysable at least so much is there after some months; common practice, no source.</summary>
    private const double MostGone = 0.4;

    /// <param name="tare">Of the empty bag (g); 0 where litter alone was weighed.</param>
    /// <param name="nominal">Litter that a bag of the lot should hold (g).</param>
    /// <param name="hydrolysable">Share of the litter that is.</param>
    public static IReadOnlyList<TenfoldMass> Of(double tare, double? nominal, double hydrolysable, double? initial, double? final)
    {
        List<TenfoldMass> slips = [];
        double? before = initial;
        if (initial is { } first && nominal is > 0 && !IsOfLot(first))
        {
            before = Array.Find(Powers, power => IsOfLot(first / power)) is > 0 and var by ? first / by : null;
            if (before is { } meant)
                slips.Add(new TenfoldMass(false, first, meant, nominal + tare, null));
        }
        // what is dug up weighs no ten times what was buried, nor can nearly all be gone of what holds parts that hardly decompose
        if (final is { } last && before is { } start && (last > 3 * start || IsGone(last))
            && Array.Find(Powers, power => last / power is var likely && likely > tare && likely <= start && !IsGone(likely))
                is > 0 and var by10)
        {
            slips.Add(new TenfoldMass(true, last, last / by10, null, start));
        }
        return slips;

        bool IsGone(double mass) => TenfoldMass.IsGone(mass - tare, before!.Value - tare, hydrolysable);

        bool IsOfLot(double mass) => IsNominal(mass - tare, nominal!.Value);
    }

    /// <summary>Whether so little litter (g) is left of what was buried that parts which hardly decompose would be gone.</summary>
    internal static bool IsGone(double last, double first, double hydrolysable) => last < LeastLeft(first, hydrolysable);

    /// <summary>The least litter (g) that is left of what was buried.</summary>
    internal static double LeastLeft(double first, double hydrolysable) => MostGone * (1 - hydrolysable) * first;

    /// <summary>Whether the litter of a bag (g) may be that of its lot at first.</summary>
    internal static bool IsNominal(double litter, double nominal) =>
        litter >= LeastOfNominal * nominal && litter <= MostOfNominal * nominal;
}
