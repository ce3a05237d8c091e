using System.Globalization;

namespace DecayAtlas.Contributions.Tables.Warnings;

/// <summary>A sign that was forgotten in a number: a decimal sign in a weight, the minus of a coordinate. Told with what was likely meant,
/// and no ground to refuse.</summary>
internal static class SlipWarnings
{
    private static readonly double[] Powers = [10, 100, 0.1];

    // of the nominal mass: what a bag of the lot may weigh, far from ten times as much (common practice, no source)
    private const double Least = 0.7, Most = 1.4;

    /// <summary>Of what is not hydrolysable at least so much is there after some months; common practice, no source.</summary>
    private const double MostGone = 0.4;

    /// <param name="at">Gives a finding about a row its cell, by the litter of its bag; null for a place.</param>
    public static IReadOnlyList<Finding> Of(IReadOnlyList<SiteRow> sites, IReadOnlyList<LotRow> allLots, IReadOnlyList<BagRow> bags,
        Func<string, string> fileOf, Func<string, string?> sheetOf, Func<Finding, string?, Finding> at)
    {
        FindingList warnings = new();
        Dictionary<string, LotRow> lots = allLots.ToDictionary(lot => lot.LotId);
        foreach (BagRow bag in bags)
        {
            if (lots.GetValueOrDefault(bag.LotId) is not { } lot || (bag.MassBasis == MassBasis.Litter ? 0 : lot.TareGrams) is not { } tare)
                continue;
            string role = bag.Role == LitterRole.Fast ? "fast" : "slow";
            double? before = bag.MassInitialGrams;
            if (before is { } initial && lot.LitterMassNominalGrams is > 0 and { } nominal && !IsOf(nominal, initial))
            {
                before = Array.Find(Powers, power => IsOf(nominal, initial / power)) is > 0 and var by ? initial / by : null;
                if (before is { } meant)
                    Tell("mass_initial_g", initial, meant, Grams(nominal + tare), null);
            }
            // what is dug up weighs no ten times what was buried, nor can nearly all be gone of what holds parts that hardly decompose
            if (bag.MassFinalGrams is { } final && before is { } start && (final > 3 * start || IsGone(final, start))
                && Array.Find(Powers, power => final / power is var likely && likely > tare && likely <= start
                    && !IsGone(likely, start)) is > 0 and var by10)
            {
                Tell("mass_final_g", final, final / by10, null, Grams(start));
            }

            bool IsGone(double mass, double buried) =>
                mass - tare < MostGone * (1 - lot.HydrolysableFraction) * (buried - tare);

            bool IsOf(double nominal, double mass) => mass - tare is var litter && litter >= Least * nominal && litter <= Most * nominal;

            void Tell(string column, double found, double meant, string? usual, string? most) => Add("bags", role,
                new Finding(FindingCode.MassTenfold, fileOf("bags"), bag.Row, column, FindingText.Quote(Grams(found)),
                    usual is null ? $"no more than {most}" : $"about {usual}", $"is it {Grams(meant)}? Then correct the decimal sign"));
        }

        foreach (SiteRow site in sites.Where(site => site.CountryCode is not null))
        {
            (double latitude, double longitude) = (site.DecimalLatitude, site.DecimalLongitude);
            if (WorldOutlines.Shipped.Holds(site.CountryCode!, latitude, longitude) != false)
                continue;
            if (WorldOutlines.Shipped.Holds(site.CountryCode!, latitude, -longitude) == true)
                TellSign(site, "decimal_longitude", longitude, "west");
            else if (WorldOutlines.Shipped.Holds(site.CountryCode!, -latitude, longitude) == true)
                TellSign(site, "decimal_latitude", latitude, "south");
        }
        return warnings.Close(fileOf("bags"));

        void TellSign(SiteRow site, string column, double degrees, string side) => Add("sites", null, new Finding(FindingCode.SignMissing,
            fileOf("sites"), site.Row, column, Plain(degrees), $"a place in the stated country, {site.CountryCode}",
            $"is the minus sign ({side}) {(degrees > 0 ? "missing" : "too much")}? It would be {Plain(-degrees)}"));

        void Add(string table, string? role, Finding finding) => warnings.Add(at(finding with { Sheet = sheetOf(table) }, role));

        static string Plain(double number) => number.ToString(CultureInfo.InvariantCulture);

        // as many decimals as a balance of school shows
        static string Grams(double grams) => Invariant($"{grams:0.00} g");
    }
}
