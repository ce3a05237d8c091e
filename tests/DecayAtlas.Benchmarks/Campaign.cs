using System.Globalization;
using System.Text;

namespace DecayAtlas.Benchmarks;

/// <summary>Writes contributions of any number of bags, the same bytes for the same numbers.</summary>
internal static class Campaign
{
    public const int BagsPerContribution = 2000;

    /// <summary>Writes contributions until <paramref name="bags"/> bags are there.</summary>
    public static void Write(string inbox, int bags)
    {
        for (int c = 0; c * BagsPerContribution < bags; c++)
            WriteContribution(inbox, c, Math.Min(BagsPerContribution, bags - c * BagsPerContribution));
    }

    /// <summary>Writes one contribution with two bags a burial, ten burials a site, sites near each other.</summary>
    public static void WriteContribution(string inbox, int number, int bags)
    {
        string id = $"c{number:00000}", folder = Path.Combine(inbox, id);
        Directory.CreateDirectory(folder);
        Random random = new(number);
        File.WriteAllText(Path.Combine(folder, "datapackage.json"), $$"""
            {
              "profile": "decayatlas-contribution-1", "name": "{{id}}", "created": "2025-01-15",
              "licenses": [{ "name": "CC-BY-4.0" }],
              "contributor": "g{{number:00000}}", "campaign": "2024-spring", "protocol": "p1",
              "resources": [
                { "name": "sites", "path": "sites.csv" }, { "name": "lots", "path": "lots.csv" }, { "name": "bags", "path": "bags.csv" }
              ]
            }
            """);
        File.WriteAllText(Path.Combine(folder, "lots.csv"),
            "lot_id,role,hydrolysable_fraction,hydrolysable_fraction_sd,litter_mass_nominal_g,litter_mass_tolerance_g,tare_g,tare_sd_g\n"
            + "F1,fast,0.80,0.02,2,0.5,0.25,0.01\nL1,slow,0.55,0.04,2,0.5,0.25,0.01\n");

        // a group's sites lie near each other: within two degrees of a centre somewhere on Earth
        double latitude = random.NextDouble() * 120 - 55, longitude = random.NextDouble() * 340 - 170;
        StringBuilder sites = new(
            "site_id,decimal_latitude,decimal_longitude,coordinate_uncertainty_m,country_code,ecosystem,land_use,management\n");
        StringBuilder rows = new(
            "bag_id,burial_id,site_id,plot,replicate,lot_id,role,mass_initial_g,mass_final_g,mass_basis,drying_initial,drying,drying_temperature_c,buried_on,retrieved_on,depth_cm,condition,unused_material,balance_resolution_g\n");
        for (int burial = 0; burial * 2 < bags; burial++)
        {
            int site = burial / 10;
            if (burial % 10 == 0)
            {
                sites.Append(
                    CultureInfo.InvariantCulture, $"S{site},{latitude + random.NextDouble() * 2:0.00000},"
                    + $"{longitude + random.NextDouble() * 2:0.00000},{10 + random.Next(90)},XA,grassland,meadow,none\n");
            }

            DateOnly buried = new DateOnly(2023, 3, 1).AddDays(random.Next(500));
            DateOnly retrieved = buried.AddDays(80 + random.Next(30));
            Bag('f', "F1", "fast", 1.7 + 0.6 * random.NextDouble(), 0.3 + 0.2 * random.NextDouble());
            Bag('s', "L1", "slow", 1.7 + 0.6 * random.NextDouble(), 0.75 + 0.15 * random.NextDouble());

            void Bag(char suffix, string lot, string role, double litter, double remaining) => rows.Append(CultureInfo.InvariantCulture,
                $"b{burial}{suffix},b{burial},S{site},{burial % 2},{burial % 10},{lot},{role},{litter + 0.25:0.000},"
                + $"{litter * remaining + 0.25:0.000},gross,oven,oven,60,{buried:yyyy-MM-dd},{retrieved:yyyy-MM-dd},8,intact,yes,0.001\n");
        }

        File.WriteAllText(Path.Combine(folder, "sites.csv"), sites.ToString());
        File.WriteAllText(Path.Combine(folder, "bags.csv"), rows.ToString());
    }
}
