namespace DecayAtlas.Contributions.Tables;

/// <summary>Turns checked cells into records. Columns are found by name once; the schema document alone decides their order.</summary>
internal static class RowBuilders
{
    public static Func<int, ReadOnlySpan<Cell>, SiteRow> Site(TableSchema schema)
    {
        int[] at = Ordinals(schema, "site_id", "decimal_latitude", "decimal_longitude", "coordinate_uncertainty_m", "coordinates_sensitive",
            "country_code", "ecosystem", "land_use", "management", "management_note", "elevation_m", "notes");
        return (row, cells) => new SiteRow(
            row, cells[at[0]].RequiredText, cells[at[1]].Number, cells[at[2]].Number, cells[at[3]].OptionalNumber,
            cells[at[4]].OptionalYesNo,
            cells[at[5]].Text, cells[at[6]].Text, cells[at[7]].Text, cells[at[8]].Text, cells[at[9]].Text, cells[at[10]].OptionalNumber,
            cells[at[11]].Text);
    }

    public static Func<int, ReadOnlySpan<Cell>, LotRow> Lot(TableSchema schema)
    {
        int[] at =
            Ordinals(schema, "lot_id", "role", "hydrolysable_fraction", "hydrolysable_fraction_sd", "ash_fraction", "ash_fraction_sd",
            "litter_mass_nominal_g", "litter_mass_tolerance_g", "tare_g", "tare_sd_g", "mesh_mm", "chemistry_source");
        return (row, cells) => new LotRow(
            row, cells[at[0]].RequiredText, Role(cells[at[1]]), cells[at[2]].Number, cells[at[3]].Number, cells[at[4]].OptionalNumber,
            cells[at[5]].OptionalNumber,
            cells[at[6]].OptionalNumber, cells[at[7]].OptionalNumber, cells[at[8]].OptionalNumber, cells[at[9]].OptionalNumber,
            cells[at[10]].OptionalNumber, cells[at[11]].Text);
    }

    public static Func<int, ReadOnlySpan<Cell>, BagRow> Bag(TableSchema schema)
    {
        int[] at =
            Ordinals(schema, "bag_id", "burial_id", "site_id", "plot", "replicate", "lot_id", "role", "treatment", "mass_initial_g",
            "mass_final_g",
            "mass_basis", "drying", "drying_temperature_c", "ash_fraction", "buried_on", "retrieved_on", "depth_cm", "condition",
            "unused_material",
            "balance_resolution_g", "notes");
        return (row, cells) => new BagRow(
            row, cells[at[0]].RequiredText, cells[at[1]].RequiredText, cells[at[2]].RequiredText, cells[at[3]].Text, cells[at[4]].Text,
            cells[at[5]].RequiredText,
            Role(cells[at[6]]), cells[at[7]].Text, cells[at[8]].OptionalNumber, cells[at[9]].OptionalNumber,
            Word<MassBasis>(cells[at[10]])!.Value, Word<Drying>(cells[at[11]]), cells[at[12]].OptionalNumber, cells[at[13]].OptionalNumber,
            cells[at[14]].Date, cells[at[15]].OptionalDate, cells[at[16]].OptionalNumber, Word<BagCondition>(cells[at[17]]),
            cells[at[18]].OptionalYesNo,
            cells[at[19]].OptionalNumber, cells[at[20]].Text);
    }

    public static Func<int, ReadOnlySpan<Cell>, SampleRow> Sample(TableSchema schema)
    {
        int[] at = Ordinals(schema, "bag_id", "accession", "marker", "archive");
        return (row, cells) =>
            new SampleRow(row, cells[at[0]].RequiredText, cells[at[1]].RequiredText, cells[at[2]].Text, cells[at[3]].Text);
    }

    private static int[] Ordinals(TableSchema schema, params ReadOnlySpan<string> names)
    {
        int[] ordinals = new int[names.Length];
        for (int i = 0; i < names.Length; i++)
            ordinals[i] = schema.OrdinalOf(names[i]);
        return ordinals;
    }

    private static LitterRole Role(Cell cell) => Word<LitterRole>(cell)!.Value;

    /// <summary>The enum member whose name is the word; the schema's list of allowed values has been checked before.</summary>
    private static TEnum? Word<TEnum>(Cell cell)
        where TEnum : struct, Enum => cell.Text is null ? null : Enum.Parse<TEnum>(cell.Text, ignoreCase: true);
}
