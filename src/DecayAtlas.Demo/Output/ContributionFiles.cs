using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using nietras.SeparatedValues;

namespace DecayAtlas.Demo.Output;

/// <summary>Turns a drafted contribution into its files: datapackage.json and one CSV a table.</summary>
internal static class ContributionFiles
{
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);
    private static readonly JsonWriterOptions Indented = new()
    {
        Indented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping
    };

    // The oldest time a zip can hold: the same bytes whenever the scenario is made.
    private static readonly DateTimeOffset ZipTime = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>The files by name, in the order they are written.</summary>
    public static SortedDictionary<string, string> TextsOf(ContributionDraft contribution)
    {
        SortedDictionary<string, string> texts = new(StringComparer.Ordinal)
        {
            ["sites.csv"] = Sites(contribution.Sites),
            ["lots.csv"] = Lots(contribution.Lots),
            ["bags.csv"] = Bags(contribution.Bags),
        };
        if (contribution.Samples.Count > 0) texts["samples.csv"] = Samples(contribution.Samples);
        texts["datapackage.json"] = Descriptor(contribution);
        return texts;
    }

    public static void WriteFolder(string folder, IReadOnlyDictionary<string, string> texts)
    {
        Directory.CreateDirectory(folder);
        foreach ((string name, string text) in texts) File.WriteAllText(Path.Combine(folder, name), text, Utf8);
    }

    public static byte[] Zip(IReadOnlyDictionary<string, string> texts)
    {
        using MemoryStream memory = new();
        using (ZipArchive zip = new(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach ((string name, string text) in texts)
            {
                ZipArchiveEntry entry = zip.CreateEntry(name, CompressionLevel.Optimal);
                entry.LastWriteTime = ZipTime;
                using Stream stream = entry.Open();
                stream.Write(Utf8.GetBytes(text));
            }
        }

        return memory.ToArray();
    }

    private static string Descriptor(ContributionDraft contribution)
    {
        using MemoryStream memory = new();
        using (Utf8JsonWriter json = new(memory, Indented))
        {
            json.WriteStartObject();
            json.WriteString("profile", "decayatlas-contribution-1");
            json.WriteString("name", contribution.Id);
            json.WriteNumber("revision", 1);
            json.WriteString("title", $"{contribution.Contributor.Title}, campaign {contribution.Campaign.Id}");
            json.WriteString("created", contribution.Campaign.Created.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
            json.WriteStartArray("licenses");
            json.WriteStartObject();
            json.WriteString("name", "CC-BY-4.0");
            json.WriteString("path", "https://creativecommons.org/licenses/by/4.0/");
            json.WriteEndObject();
            json.WriteEndArray();
            json.WriteStartArray("contributors");
            json.WriteStartObject();
            json.WriteString("title", contribution.Contributor.Title);
            json.WriteString("email", $"{contribution.Contributor.Id}@example.org");
            json.WriteString("role", "author");
            json.WriteEndObject();
            json.WriteEndArray();
            json.WriteString("contributor", contribution.Contributor.Id);
            json.WriteString("campaign", contribution.Campaign.Id);
            json.WriteString("protocol", "two-litters-90-days");
            json.WriteStartArray("resources");
            string[] tables = contribution.Samples.Count > 0 ? ["sites", "lots", "bags", "samples"] : ["sites", "lots", "bags"];
            foreach (string table in tables)
            {
                json.WriteStartObject();
                json.WriteString("name", table);
                json.WriteString("path", $"{table}.csv");
                json.WriteString("format", "csv");
                json.WriteString("mediatype", "text/csv");
                json.WriteString("encoding", "utf-8");
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
        }

        return Utf8.GetString(memory.ToArray()) + "\n";
    }

    private static string Sites(IEnumerable<SiteDraft> sites) => Table(sites, (site, row) =>
    {
        string degrees = "F" + site.CoordinateDecimals.ToString(CultureInfo.InvariantCulture);
        row["site_id"].Set(site.SiteId);
        row["decimal_latitude"].Set(site.LatitudeDegrees.ToString(degrees, CultureInfo.InvariantCulture));
        row["decimal_longitude"].Set(site.LongitudeDegrees.ToString(degrees, CultureInfo.InvariantCulture));
        row["coordinate_uncertainty_m"].Set(Number(site.UncertaintyMetres));
        row["coordinates_sensitive"].Set(site.Sensitive ? "yes" : "no");
        row["country_code"].Set(site.CountryCode);
        row["ecosystem"].Set(site.Ecosystem);
        row["land_use"].Set(site.LandUse);
        row["management"].Set(site.Management);
        row["management_note"].Set("");
        row["elevation_m"].Set(Number(site.ElevationMetres));
        row["notes"].Set(site.Notes);
    });

    private static string Lots(IEnumerable<LotDraft> lots) => Table(lots, (lot, row) =>
    {
        row["lot_id"].Set(lot.LotId);
        row["role"].Set(Role(lot.Role));
        row["hydrolysable_fraction"].Set(Number(lot.Hydrolysable));
        row["hydrolysable_fraction_sd"].Set(Number(lot.HydrolysableSd));
        row["ash_fraction"].Set(Number(lot.Ash));
        row["ash_fraction_sd"].Set(Number(lot.AshSd));
        row["litter_mass_nominal_g"].Set(Number(lot.NominalGrams));
        row["litter_mass_tolerance_g"].Set(Number(lot.ToleranceGrams));
        row["tare_g"].Set(Number(lot.TareGrams));
        row["tare_sd_g"].Set(Number(lot.TareSdGrams));
        row["mesh_mm"].Set("0.25");
        row["chemistry_source"].Set("invented lot sheet");
    });

    private static string Bags(IEnumerable<BagDraft> bags) => Table(bags, (bag, row) =>
    {
        string grams = "F" + bag.MassDecimals.ToString(CultureInfo.InvariantCulture);
        row["bag_id"].Set(bag.BagId);
        row["burial_id"].Set(bag.BurialId);
        row["site_id"].Set(bag.SiteId);
        row["plot"].Set(bag.Plot);
        row["replicate"].Set(bag.Replicate.ToString(CultureInfo.InvariantCulture));
        row["lot_id"].Set(bag.LotId);
        row["role"].Set(Role(bag.Role));
        row["treatment"].Set(bag.Treatment);
        row["mass_initial_g"].Set(bag.InitialGrams?.ToString(grams, CultureInfo.InvariantCulture) ?? "");
        row["mass_final_g"].Set(bag.FinalGrams?.ToString(grams, CultureInfo.InvariantCulture) ?? "");
        row["mass_basis"].Set(bag.Basis == MassBasis.Gross ? "gross" : "litter");
        row["drying"].Set(bag.Drying);
        row["drying_temperature_c"].Set(Number(bag.DryingCelsius));
        row["ash_fraction"].Set(Number(bag.AshFraction));
        row["buried_on"].Set(Day(bag.BuriedOn));
        row["retrieved_on"].Set(bag.RetrievedOn is { } day ? Day(day) : "");
        row["depth_cm"].Set(Number(bag.DepthCentimetres));
        row["condition"].Set(bag.Condition);
        row["unused_material"].Set(bag.Unused ? "yes" : "no");
        row["balance_resolution_g"].Set(Number(bag.ResolutionGrams));
        row["notes"].Set(bag.Notes);
    });

    private static string Samples(IEnumerable<SampleDraft> samples) => Table(samples, (sample, row) =>
    {
        row["bag_id"].Set(sample.BagId);
        row["accession"].Set(sample.Accession);
        row["marker"].Set(sample.Marker);
        row["archive"].Set("an invented sequence archive");
    });

    private static string Table<T>(IEnumerable<T> records, Action<T, SepWriter.Row> fill)
    {
        using SepWriter writer = Sep.New(',').Writer(options => options with { Escape = true }).ToText();
        foreach (T record in records)
        {
            using SepWriter.Row row = writer.NewRow();
            fill(record, row);
        }

        // The same bytes on every system.
        return writer.ToString().ReplaceLineEndings("\n");
    }

    private static string Role(LitterRole role) => role == LitterRole.Fast ? "fast" : "slow";

    private static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Number(double? value) => value?.ToString("0.#########", CultureInfo.InvariantCulture) ?? "";
}
