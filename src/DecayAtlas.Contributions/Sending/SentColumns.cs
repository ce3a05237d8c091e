using System.Globalization;
using System.Text.Json;

namespace DecayAtlas.Contributions.Sending;

/// <summary>Rows as the cells of their table: what reading made of cells, turned back.</summary>
internal static class SentColumns
{
    public static IReadOnlyList<(string Name, string Text)> Of(SiteRow row) =>
    [
        ("site_id", row.SiteId), ("decimal_latitude", Text(row.DecimalLatitude)), ("decimal_longitude", Text(row.DecimalLongitude)),
        ("coordinate_uncertainty_m", Text(row.CoordinateUncertaintyMetres)), ("coordinates_sensitive", Text(row.CoordinatesSensitive)),
        ("country_code", row.CountryCode ?? ""), ("ecosystem", row.Ecosystem ?? ""), ("land_use", row.LandUse ?? ""),
        ("management", row.Management ?? ""), ("management_note", row.ManagementNote ?? ""), ("elevation_m", Text(row.ElevationMetres)),
        ("notes", row.Notes ?? ""), ("site_name", row.SiteName ?? ""),
    ];

    public static IReadOnlyList<(string Name, string Text)> Of(LotRow row) =>
    [
        ("lot_id", row.LotId), ("role", Word(row.Role)), ("hydrolysable_fraction", Text(row.HydrolysableFraction)),
        ("hydrolysable_fraction_sd", Text(row.HydrolysableFractionSd)), ("hydrolysable_basis", Word(row.HydrolysableBasis)),
        ("hydrolysable_parts", Word(row.HydrolysableParts)), ("nonpolar_fraction", Text(row.NonpolarFraction)),
        ("nonpolar_fraction_sd", Text(row.NonpolarFractionSd)), ("water_soluble_fraction", Text(row.WaterSolubleFraction)),
        ("water_soluble_fraction_sd", Text(row.WaterSolubleFractionSd)), ("ash_fraction", Text(row.AshFraction)),
        ("ash_fraction_sd", Text(row.AshFractionSd)), ("moisture_fraction", Text(row.MoistureFraction)),
        ("moisture_fraction_sd", Text(row.MoistureFractionSd)), ("litter_mass_nominal_g", Text(row.LitterMassNominalGrams)),
        ("litter_mass_tolerance_g", Text(row.LitterMassToleranceGrams)), ("tare_g", Text(row.TareGrams)),
        ("tare_sd_g", Text(row.TareSdGrams)), ("mesh_mm", Text(row.MeshMillimetres)), ("chemistry_source", row.ChemistrySource ?? ""),
    ];

    public static IReadOnlyList<(string Name, string Text)> Of(BagRow row) =>
    [
        ("bag_id", row.BagId), ("burial_id", row.BurialId), ("site_id", row.SiteId), ("plot", row.Plot ?? ""),
        ("replicate", row.Replicate ?? ""), ("lot_id", row.LotId), ("role", Word(row.Role)), ("treatment", row.Treatment ?? ""),
        ("mass_initial_g", Text(row.MassInitialGrams)), ("mass_final_g", Text(row.MassFinalGrams)), ("mass_basis", Word(row.MassBasis)),
        ("drying_initial", Word(row.DryingInitial)), ("moisture_initial_fraction", Text(row.MoistureInitialFraction)),
        ("moisture_initial_fraction_sd", Text(row.MoistureInitialFractionSd)), ("drying", Word(row.Drying)),
        ("drying_temperature_c", Text(row.DryingTemperatureCelsius)), ("moisture_final_fraction", Text(row.MoistureFinalFraction)),
        ("moisture_final_fraction_sd", Text(row.MoistureFinalFractionSd)), ("ash_fraction", Text(row.AshFraction)),
        ("buried_on", Text(row.BuriedOn)), ("retrieved_on", Text(row.RetrievedOn)), ("depth_cm", Text(row.DepthCentimetres)),
        ("condition", Word(row.Condition)), ("unused_material", Text(row.UnusedMaterial)), ("batch_id", row.BatchId ?? ""),
        ("balance_resolution_g", Text(row.BalanceResolutionGrams)), ("notes", row.Notes ?? ""),
        ("mass_initial_sd_g", Text(row.MassInitialSdGrams)), ("mass_final_sd_g", Text(row.MassFinalSdGrams)),
    ];

    public static IReadOnlyList<(string Name, string Text)> Of(ResultRow row) =>
    [
        ("result_id", row.ResultId), ("site_id", row.SiteId), ("treatment", row.Treatment ?? ""), ("evidence", Word(row.Evidence)),
        ("burials", row.Burials.ToString(CultureInfo.InvariantCulture)), ("buried_on", Text(row.BuriedOn)),
        ("retrieved_on", Text(row.RetrievedOn)), ("exposure_days", Text(row.ExposureDays)),
        ("exposure_sd_days", Text(row.ExposureSdDays)), ("depth_cm", Text(row.DepthCentimetres)),
        ("fast_lot_id", row.FastLotId ?? ""), ("slow_lot_id", row.SlowLotId ?? ""), ("fraction_basis", Word(row.Basis)),
        ("fast_remaining_mean", Text(row.FastRemainingMean)), ("fast_remaining_sd", Text(row.FastRemainingSd)),
        ("slow_remaining_mean", Text(row.SlowRemainingMean)), ("slow_remaining_sd", Text(row.SlowRemainingSd)),
        ("remaining_correlation", Text(row.RemainingCorrelation)), ("k_per_day", Text(row.RatePerDay)),
        ("k_error_per_day", Text(row.RateErrorPerDay)), ("s", Text(row.Stabilisation)), ("s_error", Text(row.StabilisationError)),
        ("errors_are", Word(row.ErrorsAre)), ("method", Word(row.Method)),
        ("fast_hydrolysable_used", Text(row.FastHydrolysableUsed)), ("slow_hydrolysable_used", Text(row.SlowHydrolysableUsed)),
        ("notes", row.Notes ?? ""),
    ];

    public static IReadOnlyList<(string Name, string Text)> Of(SampleRow row) =>
    [
        ("sample_id", row.SampleId), ("bag_id", row.BagId), ("target_gene", row.TargetGene ?? ""),
        ("target_subfragment", row.TargetSubfragment ?? ""), ("accession", row.Accession ?? ""), ("archive", row.Archive ?? ""),
        ("richness", Text(row.Richness)), ("shannon_index_nat", Text(row.ShannonIndexNat)),
        ("diversity_method", row.DiversityMethod ?? ""), ("gene_copies_per_g_dry", Text(row.GeneCopiesPerGramDry)),
        ("gene_copies_per_g_moist", Text(row.GeneCopiesPerGramMoist)), ("gene_copies_method", row.GeneCopiesMethod ?? ""),
        ("fungi_to_bacteria_ratio", Text(row.FungiToBacteriaRatio)), ("fungi_to_bacteria_method", row.FungiToBacteriaMethod ?? ""),
    ];

    // the shortest text that gives the same number back
    private static string Text(double? number) => number?.ToString("R", CultureInfo.InvariantCulture) ?? "";

    private static string Text(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "";

    private static string Text(bool? yes) => yes switch { true => "yes", false => "no", null => "" };

    private static string Word<TEnum>(TEnum? word)
        where TEnum : struct, Enum => word is { } known ? JsonNamingPolicy.KebabCaseLower.ConvertName(known.ToString()) : "";

    private static string Word<TEnum>(TEnum word)
        where TEnum : struct, Enum => Word((TEnum?)word);
}
