using System.Globalization;

namespace DecayAtlas.Contributions.Tables.Warnings;

/// <summary>A sign that was forgotten in a number: a decimal sign in a weight, the minus of a coordinate; and two numbers in each other's
/// cells. Told with what was likely meant, and no ground to refuse.</summary>
internal static class SlipWarnings
{
    /// <param name="at">Gives a finding about a row its cell, by the litter of its bag; null for a place.</param>
    public static IReadOnlyList<Finding> Of(IReadOnlyList<SiteRow> sites, IReadOnlyList<LotRow> allLots, IReadOnlyList<BagRow> bags,
        Func<string, string> fileOf, Func<string, string?> sheetOf, Func<Finding, string?, Finding> at)
    {
        FindingList warnings = new();
        Dictionary<string, LotRow> lots = allLots.ToDictionary(lot => lot.LotId);
        HashSet<string> others = UnlikeMass.LotsOfOthers(bags, lots);
        foreach (BagRow bag in bags)
        {
            if (lots.GetValueOrDefault(bag.LotId) is not { } lot || (bag.MassBasis == MassBasis.Litter ? 0 : lot.TareGrams) is not { } tare)
                continue;
            if (!others.Contains(lot.LotId) && UnlikeMass.Of(bag, lot) is { } unlike)
            {
                Add("bags", RoleOf(bag), new Finding(FindingCode.MassUnlikely, fileOf("bags"), bag.Row,
                    unlike.IsFinal ? "mass_final_g" : "mass_initial_g", Grams(unlike.Found), unlike.IsFinal
                        ? unlike.Found > unlike.Expected ? $"no more than {Grams(unlike.Expected)}" : $"at least {Grams(unlike.Expected)}"
                        : $"about {Grams(unlike.Expected)}",
                    "look whether a digit is missing or wrong; the results of the hole hang on it"));
            }
            if (SwappedWeighings.Are(bag, lot))
            {
                (double before, double after) = (bag.MassInitialGrams!.Value, bag.MassFinalGrams!.Value);
                Add("bags", RoleOf(bag), new Finding(FindingCode.WeighingsSwapped, fileOf("bags"), bag.Row, "mass_initial_g",
                    $"{Grams(before)} → {Grams(after)}", "less after burial than before",
                    $"are the two weights swapped? It would be {Grams(after)} before and {Grams(before)} after"));
            }
            foreach (TenfoldMass slip in TenfoldMass.Of(
                tare, lot.LitterMassNominalGrams, lot.HydrolysableFraction, bag.MassInitialGrams, bag.MassFinalGrams))
            {
                Add("bags", RoleOf(bag), new Finding(FindingCode.MassTenfold, fileOf("bags"), bag.Row,
                    slip.IsFinal ? "mass_final_g" : "mass_initial_g", Grams(slip.Found),
                    slip.Usual is { } usual ? $"about {Grams(usual)}" : $"no more than {Grams(slip.Most!.Value)}",
                    $"is it {Grams(slip.Meant)}? Then correct the decimal sign"));
            }
        }

        foreach (SiteRow site in sites)
        {
            (double latitude, double longitude) = (site.DecimalLatitude, site.DecimalLongitude);
            if (AreSwapped(site))
            {
                Add("sites", null, new Finding(FindingCode.CoordinatesSwapped, fileOf("sites"), site.Row, "decimal_latitude",
                    $"{Plain(latitude)}; {Plain(longitude)}", "a place on land, in the stated country",
                    $"are latitude and longitude swapped? The latitude would be {Plain(longitude)}, the longitude {Plain(latitude)}"));
            }
            if (site.CountryCode is null)
                continue;
            if (WorldOutlines.Shipped.Holds(site.CountryCode!, latitude, longitude) != false)
                continue;
            if (WorldOutlines.Shipped.Holds(site.CountryCode!, latitude, -longitude) == true)
                TellSign(site, "decimal_longitude", longitude, "west");
            else if (WorldOutlines.Shipped.Holds(site.CountryCode!, -latitude, longitude) == true)
                TellSign(site, "decimal_latitude", latitude, "south");
        }
        return warnings.Close(fileOf("bags"));

        static string RoleOf(BagRow bag) => bag.Role == LitterRole.Fast ? "fast" : "slow";

        // only where it is plainly wrong as it stands and right the other way round
        static bool AreSwapped(SiteRow site) => Math.Abs(site.DecimalLongitude) <= 90
            && (site.CountryCode is { } country && WorldOutlines.Shipped.Find(country) is not null
                ? WorldOutlines.Shipped.Holds(country, site.DecimalLatitude, site.DecimalLongitude) == false
                    && WorldOutlines.Shipped.Holds(country, site.DecimalLongitude, site.DecimalLatitude) == true
                : !WorldOutlines.Shipped.HasLandAt(site.DecimalLatitude, site.DecimalLongitude)
                    && WorldOutlines.Shipped.HasLandAt(site.DecimalLongitude, site.DecimalLatitude));

        void TellSign(SiteRow site, string column, double degrees, string side) => Add("sites", null, new Finding(FindingCode.SignMissing,
            fileOf("sites"), site.Row, column, Plain(degrees), $"a place in the stated country, {site.CountryCode}",
            $"is the minus sign ({side}) {(degrees > 0 ? "missing" : "too much")}? It would be {Plain(-degrees)}"));

        void Add(string table, string? role, Finding finding) => warnings.Add(at(finding with { Sheet = sheetOf(table) }, role));

        static string Plain(double number) => number.ToString(CultureInfo.InvariantCulture);

        // as many decimals as a balance of school shows
        static string Grams(double grams) => Invariant($"{grams:0.00} g");
    }
}
