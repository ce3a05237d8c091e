namespace DecayAtlas.Contributions.Tables;

/// <summary>Bags of whose water nothing is said. Told, and no ground to refuse: k is computed, with the water taken as unknown.</summary>
internal static class WaterWarnings
{
    public static IReadOnlyList<Finding> Of(IReadOnlyList<BagRow> bags, string file, string? sheet)
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
                $"nothing said of the water in {unsaid.Length} of {bags.Count} bags {when}",
                "oven, air, freeze or none, or a measured moisture: k could be up to about 25 % off without",
                $"fill in {column} for all bags, in a mapping for example {column}: {{ value: oven }}")
            { Sheet = sheet });
        }
    }
}
