namespace DecayAtlas.Contributions.Tables.Warnings;

/// <summary>Measurements that contradict one another, that nothing is made of, or that are missed. Told, and no ground to refuse.</summary>
internal static class MeasurementWarnings
{
    public static IReadOnlyList<Finding> Of(IEnumerable<BagRow> bags, string file, string? sheet)
    {
        FindingList warnings = new();
        foreach (BagRow bag in bags)
        {
            foreach (StatedWater water in StatedWater.ContradictionsOf(bag, StatedWater.MostLeftByDrying))
            {
                warnings.Add(new Finding(FindingCode.DriedAndMoist, file, bag.Row, water.Column,
                    Invariant($"{water.Share} of {(water.Drying == Drying.Oven ? "oven" : "freeze")}-dried litter"),
                    Invariant($"at most {StatedWater.MostLeftByDrying}, the water that drying leaves; this share will be taken off"),
                    "leave it empty if it was the moisture before drying, or correct how the litter was dried")
                { Sheet = sheet });
            }

            SdAlone(warnings, file, sheet, bag.Row,
            [
                ("moisture_initial_fraction", bag.MoistureInitialFraction, bag.MoistureInitialFractionSd),
                ("moisture_final_fraction", bag.MoistureFinalFraction, bag.MoistureFinalFractionSd),
            ]);
        }

        return warnings.Close(file);
    }

    public static IReadOnlyList<Finding> Of(IEnumerable<LotRow> lots, string file, string? sheet)
    {
        FindingList warnings = new();
        foreach (LotRow lot in lots)
        {
            if (lot.Litter().PartsAboveWhole() is { } sum)
            {
                warnings.Add(new Finding(FindingCode.ChemistryImpossible, file, lot.Row, "hydrolysable_fraction",
                    Invariant($"fractions of lot {FindingText.Quote(lot.LotId)} that come to {sum:0.###} of the litter"),
                    "at most 1, or no k and no S can be computed",
                    "check what hydrolysable_fraction counts (hydrolysable_parts), and whether all are shares of the same litter")
                { Sheet = sheet });
            }

            SdAlone(warnings, file, sheet, lot.Row,
            [
                ("nonpolar_fraction", lot.NonpolarFraction, lot.NonpolarFractionSd),
                ("water_soluble_fraction", lot.WaterSolubleFraction, lot.WaterSolubleFractionSd),
                ("ash_fraction", lot.AshFraction, lot.AshFractionSd), ("moisture_fraction", lot.MoistureFraction, lot.MoistureFractionSd),
                ("tare_g", lot.TareGrams, lot.TareSdGrams),
            ]);
        }

        return warnings.Close(file);
    }

    /// <summary>Bags of whose water nothing is said: k is computed, with the water taken as unknown.</summary>
    public static IReadOnlyList<Finding> OfUnsaidWater(IReadOnlyList<BagRow> bags, string file, string? sheet)
    {
        FindingList warnings = new();
        Tell("before burial", "drying_initial", bag => bag.DryingInitial is null && bag.MoistureInitialFraction is null);
        Tell("after retrieval", "drying", bag => bag.Drying is null && bag.MoistureFinalFraction is null && bag.MassFinalGrams is not null);
        return warnings.Close(file);

        void Tell(string when, string column, Func<BagRow, bool> isUnsaid)
        {
            BagRow[] unsaid = [.. bags.Where(isUnsaid)];
            if (unsaid.Length == 0)
                return;
            warnings.Add(new Finding(FindingCode.WaterUnstated, file, unsaid[0].Row, column,
                $"nothing said of the water in {unsaid.Length} of {bags.Count} bag{(bags.Count == 1 ? "" : "s")} {when}",
                "oven, air, freeze or none, or a measured moisture: k could be up to about 25 % off without",
                $"fill in {column} for all bags, in a mapping for example {column}: {{ value: oven }}")
            { Sheet = sheet });
        }
    }

    private static void SdAlone(
        FindingList warnings, string file, string? sheet, int row, IEnumerable<(string Column, double? Value, double? Sd)> measured)
    {
        foreach ((string column, _, double? sd) in measured.Where(m => m is { Value: null, Sd: not null }))
        {
            string ofSd = column == "tare_g" ? "tare_sd_g" : column + "_sd";
            warnings.Add(new Finding(FindingCode.SdWithoutValue, file, row, ofSd, Invariant($"{sd} without {column}"),
                $"{column} beside it, or nothing is made of it", $"fill in {column}, or leave {ofSd} empty")
            { Sheet = sheet });
        }
    }
}
