using System.Globalization;

namespace DecayAtlas.Contributions.Tables.Warnings;

/// <summary>A sign that was forgotten in a number: a decimal sign in a weight, the minus of a coordinate. Told with what was likely meant,
/// and no ground to refuse.</summary>
internal static class SlipWarnings
{
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
            foreach (TenfoldMass slip in TenfoldMass.Of(
                tare, lot.LitterMassNominalGrams, lot.HydrolysableFraction, bag.MassInitialGrams, bag.MassFinalGrams))
            {
                Add("bags", bag.Role == LitterRole.Fast ? "fast" : "slow", new Finding(FindingCode.MassTenfold, fileOf("bags"), bag.Row,
                    slip.IsFinal ? "mass_final_g" : "mass_initial_g", Grams(slip.Found),
                    slip.Usual is { } usual ? $"about {Grams(usual)}" : $"no more than {Grams(slip.Most!.Value)}",
                    $"is it {Grams(slip.Meant)}? Then correct the decimal sign"));
            }
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
