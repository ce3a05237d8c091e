namespace DecayAtlas.Contributions.Tables;

/// <summary>Turns checked cells into a record.</summary>
internal delegate TRow RowBuilder<TRow>(int line, ReadOnlySpan<Cell> cells);

/// <summary>Columns are found by name once; the schema document alone decides their order.</summary>
internal static class RowBuilders
{
    public static RowBuilder<SiteRow> Site(TableSchema schema)
    {
        int[] at = Ordinals(schema, "site_id", "decimal_latitude", "decimal_longitude", "coordinate_uncertainty_m", "coordinates_sensitive",
            "country_code", "ecosystem", "land_use", "management", "management_note", "elevation_m", "notes", "site_name");
        return (line, cells) => new SiteRow(line, cells[at[0]].Text!, cells[at[1]].Number, cells[at[2]].Number, cells[at[3]].OptionalNumber,
            cells[at[4]].OptionalYesNo, cells[at[5]].Text, cells[at[6]].Text, cells[at[7]].Text, cells[at[8]].Text, cells[at[9]].Text,
            cells[at[10]].OptionalNumber, cells[at[11]].Text)
        {
            SiteName = cells[at[12]].Text,
        };
    }

    public static RowBuilder<LotRow> Lot(TableSchema schema)
    {
        int[] at = Ordinals(schema, "lot_id", "role", "hydrolysable_fraction", "hydrolysable_fraction_sd", "hydrolysable_basis",
            "hydrolysable_parts", "nonpolar_fraction", "nonpolar_fraction_sd", "water_soluble_fraction", "water_soluble_fraction_sd",
            "ash_fraction", "ash_fraction_sd", "moisture_fraction", "moisture_fraction_sd", "litter_mass_nominal_g",
            "litter_mass_tolerance_g", "tare_g", "tare_sd_g", "mesh_mm", "chemistry_source");
        return (line, cells) => new LotRow(line, cells[at[0]].Text!, Role(cells[at[1]]), cells[at[2]].Number, cells[at[3]].Number,
            Word<FractionBasis>(cells[at[4]]), Word<HydrolysableParts>(cells[at[5]]), cells[at[6]].OptionalNumber,
            cells[at[7]].OptionalNumber, cells[at[8]].OptionalNumber, cells[at[9]].OptionalNumber, cells[at[10]].OptionalNumber,
            cells[at[11]].OptionalNumber, cells[at[12]].OptionalNumber, cells[at[13]].OptionalNumber, cells[at[14]].OptionalNumber,
            cells[at[15]].OptionalNumber, cells[at[16]].OptionalNumber, cells[at[17]].OptionalNumber, cells[at[18]].OptionalNumber,
            cells[at[19]].Text);
    }

    public static RowBuilder<BagRow> Bag(TableSchema schema)
    {
        int[] at = Ordinals(schema, "bag_id", "burial_id", "site_id", "plot", "replicate", "lot_id", "role", "treatment", "mass_initial_g",
            "mass_final_g", "mass_basis", "drying_initial", "moisture_initial_fraction", "moisture_initial_fraction_sd", "drying",
            "drying_temperature_c", "moisture_final_fraction", "moisture_final_fraction_sd", "ash_fraction", "buried_on", "retrieved_on",
            "depth_cm", "condition", "unused_material", "batch_id", "balance_resolution_g", "notes",
            "mass_initial_sd_g", "mass_final_sd_g");
        return (line, cells) => new BagRow(line, cells[at[0]].Text!, cells[at[1]].Text!, cells[at[2]].Text!, cells[at[3]].Text,
            cells[at[4]].Text, cells[at[5]].Text!, Role(cells[at[6]]), cells[at[7]].Text, cells[at[8]].OptionalNumber,
            cells[at[9]].OptionalNumber, Word<MassBasis>(cells[at[10]])!.Value, Word<Drying>(cells[at[11]]), cells[at[12]].OptionalNumber,
            cells[at[13]].OptionalNumber, Word<Drying>(cells[at[14]]), cells[at[15]].OptionalNumber, cells[at[16]].OptionalNumber,
            cells[at[17]].OptionalNumber, cells[at[18]].OptionalNumber, cells[at[19]].Date, cells[at[20]].OptionalDate,
            cells[at[21]].OptionalNumber, Word<BagCondition>(cells[at[22]]), cells[at[23]].OptionalYesNo, cells[at[24]].Text,
            cells[at[25]].OptionalNumber, cells[at[26]].Text)
        {
            MassInitialSdGrams = cells[at[27]].OptionalNumber,
            MassFinalSdGrams = cells[at[28]].OptionalNumber,
        };
    }

    public static RowBuilder<ResultRow> Result(TableSchema schema)
    {
        int[] at = Ordinals(schema, "result_id", "site_id", "treatment", "evidence", "burials", "buried_on", "retrieved_on",
            "exposure_days", "exposure_sd_days", "depth_cm", "fast_lot_id", "slow_lot_id", "fraction_basis", "fast_remaining_mean",
            "fast_remaining_sd", "slow_remaining_mean", "slow_remaining_sd", "remaining_correlation", "k_per_day", "k_error_per_day", "s",
            "s_error", "errors_are", "method", "fast_hydrolysable_used", "slow_hydrolysable_used", "notes");
        return (line, cells) => new ResultRow(line, cells[at[0]].Text!, cells[at[1]].Text!, cells[at[2]].Text,
            Word<EvidenceKind>(cells[at[3]])!.Value, (int)cells[at[4]].Number, cells[at[5]].Date, cells[at[6]].OptionalDate,
            cells[at[7]].OptionalNumber, cells[at[8]].OptionalNumber, cells[at[9]].OptionalNumber, cells[at[10]].Text, cells[at[11]].Text,
            Word<StatedBasis>(cells[at[12]]), cells[at[13]].OptionalNumber, cells[at[14]].OptionalNumber, cells[at[15]].OptionalNumber,
            cells[at[16]].OptionalNumber, cells[at[17]].OptionalNumber, cells[at[18]].OptionalNumber, cells[at[19]].OptionalNumber,
            cells[at[20]].OptionalNumber, cells[at[21]].OptionalNumber, Word<ErrorKind>(cells[at[22]]), Word<ResultMethod>(cells[at[23]]),
            cells[at[24]].OptionalNumber, cells[at[25]].OptionalNumber, cells[at[26]].Text);
    }

    public static RowBuilder<SampleRow> Sample(TableSchema schema)
    {
        int[] at = Ordinals(schema, "sample_id", "bag_id", "target_gene", "target_subfragment", "accession", "archive", "richness",
            "shannon_index_nat", "diversity_method", "gene_copies_per_g_dry", "gene_copies_per_g_moist", "gene_copies_method",
            "fungi_to_bacteria_ratio", "fungi_to_bacteria_method");
        return (line, cells) => new SampleRow(line, cells[at[0]].Text!, cells[at[1]].Text!, cells[at[2]].Text, cells[at[3]].Text,
            cells[at[4]].Text, cells[at[5]].Text, cells[at[6]].OptionalNumber, cells[at[7]].OptionalNumber, cells[at[8]].Text,
            cells[at[9]].OptionalNumber, cells[at[10]].OptionalNumber, cells[at[11]].Text, cells[at[12]].OptionalNumber,
            cells[at[13]].Text);
    }

    private static int[] Ordinals(TableSchema schema, params string[] names) => Array.ConvertAll(names, schema.OrdinalOf);

    private static LitterRole Role(Cell cell) => Word<LitterRole>(cell)!.Value;

    // The enum member whose name is the word, hyphens apart; the schema's list of allowed values has been checked before.
    private static TEnum? Word<TEnum>(Cell cell)
        where TEnum : struct, Enum => cell.Text is null ? null
        : Enum.Parse<TEnum>(cell.Text.Replace("-", "", StringComparison.Ordinal), ignoreCase: true);
}
