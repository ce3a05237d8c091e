using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace DecayAtlas.Demo.Output;

/// <summary>Turns a drafted contribution into its files: datapackage.json and one CSV a table.</summary>
internal static class ContributionFiles
{
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);
    private static readonly JsonSerializerOptions Indented = new()
    {
        WriteIndented = true,
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
            ["sites.csv"] = Sites(contribution.Sites, contribution.Contributor.Id),
            ["lots.csv"] = Lots(contribution.Lots),
        };
        if (contribution.Burials.Count > 0) texts["bags.csv"] = Bags(contribution.Burials);
        if (contribution.Results.Count > 0) texts["results.csv"] = Results(contribution.Results, contribution.Lots);
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
        string[] tables =
        [
            "sites", "lots",
            .. contribution.Burials.Count > 0 ? ["bags"] : Array.Empty<string>(),
            .. contribution.Results.Count > 0 ? ["results"] : Array.Empty<string>(),
            .. contribution.Samples.Count > 0 ? ["samples"] : Array.Empty<string>(),
        ];
        Contributor contributor = contribution.Contributor;
        return JsonSerializer.Serialize(new
        {
            profile = "decayatlas-contribution-1",
            name = contribution.Id,
            revision = 1,
            title = $"{contributor.Title}, campaign {contribution.Campaign.Id}",
            created = contribution.Campaign.Created,
            licenses = new[] { new { name = "CC-BY-4.0", path = "https://creativecommons.org/licenses/by/4.0/" } },
            contributors = new[] { new { title = contributor.Title, email = $"{contributor.Id}@example.org", role = "author" } },
            contributor = contributor.Id,
            campaign = contribution.Campaign.Id,
            protocol = "two-litters-90-days",
            resources = tables.Select(table =>
                new { name = table, path = $"{table}.csv", format = "csv", mediatype = "text/csv", encoding = "utf-8" }),
        }, Indented) + "\n";
    }

    private static string Sites(IEnumerable<SiteDraft> sites, string group) => CsvText.Of(sites, site =>
    {
        string degrees = $"F{site.CoordinateDecimals}";
        return
        [
            ("site_id", site.SiteId),
            ("decimal_latitude", site.LatitudeDegrees.ToString(degrees, CultureInfo.InvariantCulture)),
            ("decimal_longitude", site.LongitudeDegrees.ToString(degrees, CultureInfo.InvariantCulture)),
            ("coordinate_uncertainty_m", site.UncertaintyMetres),
            ("coordinates_sensitive", site.Sensitive),
            ("country_code", site.CountryCode),
            ("ecosystem", LocalWordsOutput.Of(group, "ecosystem", site.Ecosystem)),
            ("land_use", LocalWordsOutput.Of(group, "land_use", site.LandUse)),
            ("management", LocalWordsOutput.Of(group, "management", site.Management)),
            ("management_note", null),
            ("elevation_m", site.ElevationMetres),
            ("notes", null),
            ("site_name", null),
        ];
    });

    private static string Lots(IEnumerable<LotDraft> lots) => CsvText.Of(lots, lot =>
    {
        bool isFullSheet = lot.Ash is not null;
        return
        [
            ("lot_id", lot.LotId),
            ("role", lot.Role),
            ("hydrolysable_fraction", lot.Hydrolysable),
            ("hydrolysable_fraction_sd", lot.HydrolysableSd),
            ("hydrolysable_basis", !isFullSheet ? null : lot.IsAshFree ? "ash-free" : "dry"),
            ("hydrolysable_parts", !isFullSheet ? null : lot.Nonpolar is null ? "all-soluble" : "water-and-acid-soluble"),
            ("nonpolar_fraction", lot.Nonpolar),
            ("nonpolar_fraction_sd", lot.Nonpolar is null ? null : StandardLots.NonpolarSd),
            ("ash_fraction", lot.Ash),
            ("ash_fraction_sd", isFullSheet ? StandardLots.AshSd : null),
            ("moisture_fraction", lot.Water),
            ("moisture_fraction_sd", lot.Water is null ? null : StandardLots.WaterSd),
            ("litter_mass_nominal_g", isFullSheet ? StandardLots.NominalGrams : null),
            ("litter_mass_tolerance_g", isFullSheet ? StandardLots.ToleranceGrams : null),
            ("tare_g", lot.TareGrams),
            ("tare_sd_g", isFullSheet ? StandardLots.TareSdGrams : null),
            ("mesh_mm", 0.6),
            ("chemistry_source", "invented lot sheet"),
        ];
    });

    private static string Bags(IEnumerable<BurialDraft> burials) =>
        CsvText.Of(burials.SelectMany(burial => burial.Bags, (burial, bag) => (burial, bag)), pair =>
    {
        (BurialDraft burial, BagDraft bag) = pair;
        string grams = $"F{bag.MassDecimals}";
        return
        [
            ("bag_id", bag.BagId),
            ("burial_id", burial.BurialId),
            ("site_id", burial.SiteId),
            ("plot", burial.Plot),
            ("replicate", burial.Replicate),
            ("lot_id", bag.Lot.LotId),
            ("role", bag.Role),
            ("treatment", burial.Treatment),
            ("mass_initial_g", bag.InitialGrams.ToString(grams, CultureInfo.InvariantCulture)),
            ("mass_final_g", bag.FinalGrams?.ToString(grams, CultureInfo.InvariantCulture)),
            ("mass_basis", bag.Basis == MassBasis.Gross ? "gross" : "litter"),
            ("drying_initial", bag.DryingInitial),
            ("moisture_initial_fraction", bag.MoistureInitial),
            ("drying", bag.Drying),
            ("drying_temperature_c", bag.DryingCelsius),
            ("ash_fraction", bag.AshFraction),
            ("buried_on", bag.BuriedOn),
            ("retrieved_on", bag.RetrievedOn),
            ("depth_cm", bag.DepthCentimetres),
            ("condition", bag.Condition),
            ("unused_material", bag.Unused),
            ("balance_resolution_g", bag.StatesResolution ? bag.ResolutionGrams : null),
            ("notes", bag.Notes),
        ];
    });

    private static string Results(IEnumerable<ResultDraft> results, IReadOnlyList<LotDraft> lots) => CsvText.Of(results, result =>
    [
        ("result_id", result.ResultId),
        ("site_id", result.SiteId),
        ("evidence", result.Evidence),
        ("burials", result.Burials),
        ("buried_on", result.BuriedOn),
        ("retrieved_on", result.RetrievedOn),
        ("depth_cm", result.DepthCentimetres),
        ("fast_lot_id", lots.First(lot => lot.Role == LitterRole.Fast).LotId),
        ("slow_lot_id", lots.First(lot => lot.Role == LitterRole.Slow).LotId),
        ("fraction_basis", "dry"),
        ("fast_remaining_mean", result.FastMean),
        ("fast_remaining_sd", result.FastSd),
        ("slow_remaining_mean", result.SlowMean),
        ("slow_remaining_sd", result.SlowSd),
        ("k_per_day", result.Rate),
        ("k_error_per_day", result.RateSd),
        ("s", result.Stabilisation),
        ("s_error", result.StabilisationSd),
        ("errors_are", result.Rate is null ? null : "sd"),
        ("method", result.Rate is null ? null : "two-litter"),
        ("fast_hydrolysable_used", result.FastHydrolysableUsed),
        ("slow_hydrolysable_used", result.SlowHydrolysableUsed),
    ]);

    private static string Samples(IEnumerable<SampleDraft> samples) => CsvText.Of(samples, sample =>
    [
        ("sample_id", sample.SampleId),
        ("bag_id", sample.BagId),
        ("target_gene", sample.TargetGene),
        ("accession", sample.Accession),
        ("archive", sample.Accession is null ? null : "an invented sequence archive"),
        ("richness", sample.Richness),
        ("shannon_index_nat", sample.Shannon),
        ("diversity_method", sample.Richness is null ? null : "sequence variants in 10000 reads drawn"),
        ("gene_copies_per_g_dry", sample.GeneCopiesPerGramDry),
        ("gene_copies_method", sample.GeneCopiesPerGramDry is null ? null : "quantitative PCR"),
        ("fungi_to_bacteria_ratio", sample.FungiToBacteria),
        ("fungi_to_bacteria_method", sample.FungiToBacteria is null ? null : "ITS over 16S rRNA copies"),
    ]);
}
