using static DecayAtlas.Contributions.Questioning.Columns.ColumnChoice;

namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>Which litter a row is of, where no name of a column says it.</summary>
internal static class LitterColumn
{
    /// <summary>The litter that a word stands for, by itself or by the campaign.</summary>
    public static LitterRole? RoleOf(string word, AskedTable table) =>
        (table.StateOfColour.GetValueOrDefault(word) ?? table.WordOfCampaign(word)) switch
        {
            "fast" => LitterRole.Fast,
            "slow" => LitterRole.Slow,
            _ => HeaderWords.RoleOf(word) ?? table.RoleByLegend(word),
        };

    /// <summary>The only litter that names of columns speak of, where no column says it of each row.</summary>
    public static LitterRole? OnlyRole(AskedTable table) => table.IsBurialRow || (table.Of(Role) ?? table.Of(Lot)) is not null ? null
        : table.Chosen.Where(entry => entry.Key.Field is Initial or Final or Loss or Remaining).Select(entry => table.RoleOf(entry.Value))
            .Distinct().ToArray() is [LitterRole only] ? only : null;

    /// <summary>Asks for the column of the litters where rows of both stand under each other and none says which.</summary>
    public static void Ask(AskedTable table)
    {
        if (!table.IsBurialRow && table.Of(Role) is null && OnlyRole(table) is null && !(table.Of(Lot) is { } lot
            && lot.Distinct.All(l => CampaignLots.Find(l, table) is not null)))
        {
            AskRole(table);
        }
    }

    /// <summary>How much is left in a row by whatever the table says of it, to be compared with other rows.</summary>
    public static Func<int, double?> Left(AskedTable table)
    {
        Func<int, double?> initial = Numbers(Initial), final = Numbers(Final), loss = Numbers(Loss), remaining = Numbers(Remaining);
        return row => initial(row) is { } first and > 0 && final(row) is { } last ? last / first
            : loss(row) is { } lost ? -Math.Abs(lost) : remaining(row);

        Func<int, double?> Numbers(string field)
        {
            if (table.Of(field) is not { } column)
                return _ => null;
            NumberForm form = NumberForm.Of(column)[0];
            return row => form.Read(column, row);
        }
    }

    // any column of two kinds may say which litter it is, also a colour, a title or the letters of bag numbers
    private static void AskRole(AskedTable table)
    {
        AskedColumn[] halves = RoleColumns.Of([.. table.Columns.Where(column => !column.IsDates && !IsOfPlaces(column)
            && !table.Chosen.Any(entry =>
            entry.Value == column
            && entry.Key.Field is not (Site or Treatment or Bag or Number or Replicate or Role or Lot or Burial)))]);
        if (halves is [AskedColumn only] && !table.Chosen.Any(entry => entry.Value == only && entry.Key.Field is Site or Treatment or Lot))
        {
            foreach ((string Field, LitterRole? Role) key in table.Chosen.Where(entry => entry.Value == only && only.Distinct.Count == 2)
                .Select(entry => entry.Key).ToArray())
            {
                table.Chosen.Remove(key);
            }
            table.Chosen[(Role, null)] = only;
            return;
        }
        if (halves.Length == 0)
        {
            AskOne(table, Role, null, column => column.Distinct.Count is >= 2 and <= 12 && !IsOfPlaces(column));
        }
        else if (AskColumn(table, Role, null, halves, mayLack: true,
            RoleColumns.MostTelling(halves, Left(table))?.Name) is { } name
            && halves.FirstOrDefault(column => column.Name == name) is { } chosen)
        {
            foreach ((string Field, LitterRole? Role) key in table.Chosen.Where(entry => entry.Value == chosen)
                .Select(entry => entry.Key).ToArray())
            {
                table.Chosen.Remove(key);
            }
            table.Chosen[(Role, null)] = chosen;
        }
    }

    // both bags of a hole lie in one place: by its name or position no litter is told
    private static bool IsOfPlaces(AskedColumn column) =>
        column.Sense.HasAny(Concept.Site, Concept.Position, Concept.Latitude, Concept.Longitude, Concept.Easting, Concept.Northing)
        || (column.Distinct.Count > 0 && column.Distinct.All(text => StateWords.IsNothing(text) || PlaceText.PairOf(text) is not null));
}
