using static DecayAtlas.Contributions.Questioning.Columns.ColumnChoice;

namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>What a column may be, by its name and the kind of its values, each with how likely.</summary>
internal static class ColumnMeanings
{
    public static IEnumerable<(string Field, int Score)> Of(AskedColumn column, AskedTable table)
    {
        HeaderSense sense = column.Sense;
        bool isEmpty = column.Filled == 0;
        string[] words = [.. column.Distinct.Where(word => !StateWords.IsNothing(word))];
        if (words.Length > 0 && column.IsWords && words.All(word => LitterColumn.RoleOf(word, table) is not null) && words.Length <= 8
            && !IsOfRemarks(column, table))
        {
            yield return (Role, 12);
        }
        if (column.IsWords && words.Length > 0 && words.All(word => CampaignLots.Find(word, table) is not null))
            yield return (Lot, 13);
        if (column.IsWords && words.Length > 0 && words.All(word => PlaceText.PairOf(word) is not null))
            yield return (Position, 12);
        if ((column.IsDates || isEmpty) && sense.Has(Concept.Retrieving) && !(sense.Has(Concept.Burying) && !sense.Has(Concept.Last)))
            yield return (Retrieved, 10);
        if ((column.IsDates || isEmpty) && sense.Has(Concept.Burying) && !sense.Has(Concept.Retrieving) && !sense.Has(Concept.Burial))
            yield return (Buried, 10);
        if (column.IsDates && sense.HasAny(Concept.Burying, Concept.Burial, Concept.First)
            && !sense.HasAny(Concept.Retrieving, Concept.Last))
        {
            yield return (Buried, 9);
        }

        if (column.IsDates && sense.Has(Concept.Last) && !sense.HasAny(Concept.First, Concept.Burying))
            yield return (Retrieved, 9);
        if (column.IsNumbers || isEmpty || column.Distinct.All(StateWords.IsNoValue))
        {
            // water in % of the dry mass is water
            if (sense.Has(Concept.Moisture) && (sense.Unit == "percent" || (sense.Unit is null && !sense.Has(Concept.Mass)))
                && !StateWords.IsOfGround(column.Name))
            {
                yield return (sense.Has(Concept.First) == sense.Has(Concept.Last) ? Moisture
                    : sense.Has(Concept.First) ? MoistureInitial : MoistureFinal, 12);
            }
            else if (sense.Has(Concept.Ash) && !sense.Has(Concept.AshFree))
            {
                yield return (Ash, 12);
            }
            else if (sense.Has(Concept.Tare) && !sense.HasAny(Concept.Loss))
            {
                yield return (Tare, 11);
            }
            else if (sense.Has(Concept.Sd) || column.Header.Part == CellPart.Spread)
            {
                yield return (Sd, 9);
            }
            else if (sense.Has(Concept.Mean) && sense.HasAny(Concept.Mass, Concept.First, Concept.Last, Concept.Remaining))
            {
                yield return (Mean, 11);
            }
            else if (sense.HasAny(Concept.Loss, Concept.Change))
            {
                yield return (Loss, 10);
            }
            else if (sense.Has(Concept.Remaining) && (sense.Unit == "percent"
                || (!sense.Has(Concept.Mass) && !sense.HasAny(Concept.Last, Concept.First))))
            {
                yield return (Remaining, 10);
            }
            else if (!isEmpty && column.IsNumbers && sense.Unit is "g" or "mg" && !sense.HasAny(Concept.First, Concept.Last)
                && sense.Has(Concept.Retrieving) && !sense.Has(Concept.Burying))
            {
                yield return (Final, 8);
            }
            else if (sense.Has(Concept.First) && !sense.HasAny(Concept.Last, Concept.Burial, Concept.Days)
                && (!isEmpty || sense.Has(Concept.Mass)))
            {
                yield return (Initial, sense.Has(Concept.Mass) ? 10 : 9);
            }
            else if (sense.Has(Concept.Last) && !sense.HasAny(Concept.First, Concept.Days) && (!isEmpty || sense.Has(Concept.Mass)))
            {
                yield return (Final, sense.Has(Concept.Mass) ? 10 : 9);
            }
        }
        if (sense.Has(Concept.Latitude) && sense.Has(Concept.Longitude))
            yield return (Position, 10);
        else if (sense.Has(Concept.Latitude))
            yield return (Latitude, 10);
        else if (sense.Has(Concept.Longitude))
            yield return (Longitude, 10);
        // a small n beside no e is a count
        string name = column.Name.Trim(), other = name.ToUpperInvariant();
        bool isSide = name == other || table.Columns.Any(one => one.Name.Trim() is "n" or "s" && other is not ("N" or "S"))
            || table.Columns.Any(one => one.Name.Trim() is "e" or "o" or "w" && other is "N" or "S");
        if (column.IsNumbers && isSide && other is "N" or "N (°)" or "° N")
            yield return (Latitude, 8);
        if (column.IsNumbers && isSide && other is "E" or "O" or "W" or "E (°)" or "° E")
            yield return (Longitude, 8);
        if (column.IsNumbers && sense.Has(Concept.Easting))
            yield return (Easting, 7);
        if (column.IsNumbers && sense.Has(Concept.Northing))
            yield return (Northing, 7);
        if (sense.Has(Concept.Position) && !column.IsNumbers)
            yield return (Position, 7);
        if (column.IsWords && (sense.Has(Concept.WithBag)
            || (words.Length > 0 && !IsOfRemarks(column, table)
                && words.All(word => HeaderWords.Read(word, null).Basis is not null))))
        {
            yield return (WithBag, 11);
        }
        if (sense.Has(Concept.Drying) && column.IsWords)
        {
            yield return (sense.Has(Concept.First) == sense.Has(Concept.Last) ? ColumnChoice.Drying
                : sense.Has(Concept.First) ? DryingInitial : DryingFinal, 7);
        }
        if (column.IsDates)
            yield break;
        foreach ((Concept concept, string field, int score) in Others)
        {
            // means of the fast litter say no litter of their rows
            if (field == Role && sense.Role is not null && column.Header.Part != CellPart.Whole)
                continue;
            // what is weighed is no name of anything
            if (column.IsNumbers && Units.InGrams(sense.Unit) is not null
                && Names.Contains(field))
            {
                continue;
            }
            // an error of k or of S is neither
            if (sense.Has(concept) && !isEmpty && !(field is Rate or Stabilisation && sense.HasAny(Concept.Sd, Concept.Spread)))
                yield return (field, score);
        }
        bool mayBeTreatment = sense.HasAny(Concept.LandUse, Concept.Management, Concept.Treatment)
            || column.Name is BlockJoiner.TitleColumn or BlockJoiner.SheetColumn;
        if (column.IsWords && mayBeTreatment && words.Length > 0
            && table.Campaign is { Treatments.Count: > 0 } && words.All(word => table.TreatmentOf(word) is not null))
        {
            yield return (Treatment, 9);
        }
    }

    private static readonly string[] Names = [Bag, Lot, Role, Site, Number, Burial, Plot, Replicate];

    private static readonly (Concept Concept, string Field, int Score)[] Others =
    [
        (Concept.Lot, Lot, 8), (Concept.Treatment, Treatment, 6), (Concept.Condition, Condition, 7), (Concept.Notes, Notes, 8),
        (Concept.Litter, Role, 6), (Concept.Site, Site, 6), (Concept.Burial, Burial, 5), (Concept.Bag, Bag, 5), (Concept.Plot, Plot, 5),
        (Concept.Replicate, Replicate, 5), (Concept.Number, Number, 4), (Concept.Depth, Depth, 6),
        (Concept.Ecosystem, Ecosystem, 6), (Concept.LandUse, LandUse, 6), (Concept.Elevation, Elevation, 6),
            (Concept.Management, Management, 5),
        (Concept.Days, Days, 5), (Concept.Rate, Rate, 3), (Concept.Stabilisation, Stabilisation, 3),
        (Concept.Unit, ColumnChoice.RateUnit, 4),
        (Concept.Count, Count, 2),
    ];

    /// <summary>A remark on some bags names a litter, and tells that of no other row.</summary>
    public static bool IsOfRemarks(AskedColumn column, AskedTable table) => column.Filled < table.Rows.Count
        && (column.Sense.HasAny(Concept.Notes, Concept.Condition)
            || column.Name.StartsWith(RowLooks.CommentColumn, StringComparison.Ordinal));
}
