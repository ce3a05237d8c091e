namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>Gives the columns of a table to fields, by their names and values; asks where several or none may be meant.</summary>
internal static class ColumnChoice
{
    public const string Site = "site", Latitude = "latitude", Longitude = "longitude", Position = "position", Role = "role", Lot = "lot",
        Initial = "mass-initial", Final = "mass-final", Loss = "loss", Remaining = "remaining", Tare = "tare", Buried = "buried-on",
        Retrieved = "retrieved-on", Days = "days", Burial = "burial", Bag = "bag", Number = "number", Replicate = "replicate",
            Plot = "plot",
        Treatment = "treatment", Notes = "notes", Condition = "condition", Depth = "depth", WithBag = "with-bag", Drying = "drying",
        Easting = "easting", Northing = "northing", Ecosystem = "ecosystem", LandUse = "land-use", Elevation = "elevation",
        Management = "management", Country = "country", Rate = "rate", Stabilisation = "stabilisation", RateUnit = "rate-unit",
        Mean = "mean", Sd = "sd", Count = "count", Ash = "ash",
        DryingInitial = "drying-initial", DryingFinal = "drying-final", MoistureInitial = "moisture-initial",
        MoistureFinal = "moisture-final", Moisture = "moisture";

    public static void Make(AskedTable table)
    {
        IReadOnlyList<(AskedColumn Column, string Field, string Day)> dated = DatedMasses.In(table);
        // a column is what it is most likely
        (AskedColumn Column, string Field, int Score)[] meant =
        [
            .. dated.Select(one => (one.Column, one.Field, 9)),
            .. table.Columns.Where(column => dated.All(one => one.Column != column))
                .Select(column => (column, Of: Meanings(column, table).ToArray())).Where(entry => entry.Of.Length > 0)
                .Select(entry => (entry.column, Best: entry.Of.MaxBy(meaning => meaning.Score)))
                .Select(entry => (entry.column, entry.Best.Field,
                    entry.Best.Score - (entry.column.IsHidden ? 5 : 0) - (entry.column.Sense.Has(Concept.Old) ? 5 : 0))),
        ];
        meant = [.. meant, .. ShareColumns.Find(table, [.. meant.Select(claim => claim.Column)])];
        LetteredBags.Find(table, [.. meant.Select(claim => (claim.Column, claim.Field))]);
        table.Masses.UnionWith(meant.Where(claim => claim.Field is Initial or Final && !claim.Column.IsHidden
            && !claim.Column.Sense.Has(Concept.Old)).Select(claim => claim.Column.Ordinal));
        (AskedColumn Column, string Field, LitterRole? Role, int Score)[] claims = [.. meant.Select(claim =>
            (claim.Column, claim.Field, IsOfOneBag(claim.Field) ? table.RoleOf(claim.Column) : null, claim.Score))];
        // means of masses are no masses of bags
        if (MeanColumns.Are(table))
            claims = [.. claims.Where(claim => claim.Field is not (Mean or Sd or Count or Initial or Final or Loss or Remaining or Tare))];
        foreach (IGrouping<(string Field, LitterRole? Role), (AskedColumn Column, string Field, LitterRole? Role,
            int Score)> field in claims.GroupBy(claim => (claim.Field, claim.Role))
            .OrderBy(group => group.Key.Field, StringComparer.Ordinal)
            .ThenBy(group => group.Key.Role))
        {
            int best = field.Max(claim => claim.Score);
            AskedColumn[] likely = [.. field.Where(claim => claim.Score == best).Select(claim => claim.Column)];
            if (likely.Length > 1)
                likely = Sharper(likely, field.Key.Field, field.Key.Role, table);
            table.Chosen[(field.Key.Field, field.Key.Role)] = likely[0];
            foreach (AskedColumn hidden in field.Select(claim => claim.Column).Where(column => column.IsHidden && column != likely[0]))
                table.Ask.Tell("hidden-column", 1, hidden.Seen(), hidden.Name, likely[0].Name);
        }
        // the mean of first masses beside a last one of each bag
        foreach (((string Field, LitterRole? Role) key, AskedColumn mean) in table.Chosen.Where(entry => entry.Key.Field == Mean).ToArray())
        {
            if (mean.Sense.Has(Concept.First) && !table.Chosen.ContainsKey((Initial, key.Role)) && table.Chosen.Keys.Any(other =>
                other.Role == key.Role && other.Field is Final or Loss or Remaining))
            {
                table.Chosen.Remove(key);
                table.Chosen[(Initial, key.Role)] = mean;
            }
        }
        table.IsBurialRow = table.Chosen.Keys.Any(key => key.Role is not null) && !table.Chosen.ContainsKey((Role, null))
            && new[] { LitterRole.Fast, LitterRole.Slow }.All(role => table.Chosen.Keys.Any(key => key.Role == role));
        if (!table.IsBurialRow)
        {
            foreach ((string Field, LitterRole? Role) key in table.Chosen.Keys.Where(key => key.Role is not null).ToArray())
            {
                table.Chosen.TryAdd((key.Field, null), table.Chosen[key]);
                table.Chosen.Remove(key);
            }
        }
        if (!table.IsBurialRow && table.Of(Role) is null
            && table.Columns.FirstOrDefault(column => column.Distinct.Count >= 2 && !IsOfRemarks(column, table)
                && column.Distinct.All(text => RoleOf(text, table) is not null)) is { } telling)
        {
            table.Chosen[(Role, null)] = telling;
        }
        // titles above joined tables, or the sheets they stand on, name what their rows have in common
        if (table.Of(Site) is null && table.Columns.FirstOrDefault(column =>
            column.Name is BlockJoiner.TitleColumn or BlockJoiner.SheetColumn && !table.Chosen.ContainsValue(column)
            && column.Filled == table.Rows.Count && column.Distinct.Count > 1
                && !column.Distinct.Any(text => RoleOf(text, table) is not null)) is { } common)
        {
            table.Chosen[(Site, null)] = common;
        }
        DatesByOrder(table);
        DaysOfWeighings(table);
        DatedMasses.Ask(table, dated);
        if (IsOfBags(table))
            AskMissing(table);
        else if (ShareColumns.AreAlone(table))
            AskLitter(table);
    }

    /// <summary>Whether there are weighings at all, not means or k and S alone.</summary>
    public static bool IsOfBags(AskedTable table) => !MeanColumns.Are(table) && !ShareColumns.AreAlone(table)
        && (!(table.Chosen.ContainsKey((Rate, null)) || table.Chosen.ContainsKey((Mean, null)))
            || table.Chosen.Keys.Any(key => key.Field is Initial or Final));

    private static bool IsOfOneBag(string field) =>
        field is Initial or Final or Loss or Remaining or Lot or Condition or Notes or Bag or Retrieved or Buried or Tare or Mean or Sd
            or Ash or MoistureInitial or MoistureFinal or Moisture;

    private static AskedColumn[] Sharper(AskedColumn[] likely, string field, LitterRole? role, AskedTable table)
    {
        AskedColumn[] shown = [.. likely.Where(column => !column.IsHidden)];
        if (shown.Length > 1 && field == Site)
            return [SiteColumns.Named(shown, table) ?? shown[0]];
        if (shown.Length == 1 || field is Notes or Number or Position or Sd)
            return shown.Length > 0 ? shown : likely;
        // the empty bag weighed once, and written beside both weighings
        if (field == Tare && Array.TrueForAll(shown, column => Enumerable.Range(0, table.Rows.Count)
            .All(row => column.TextAt(row) == shown[0].TextAt(row))))
        {
            return shown;
        }
        // what was burnt, and what was left of it
        if (field == Ash && shown.Length == 2 && Array.TrueForAll(shown, column =>
            column.Sense.Unit is "g" or "mg") && MassColumns.Pair(shown, shown) is { } pair)
        {
            return [pair.After];
        }
        // a loss in grams says more than one in percent that was computed of it
        if (field == Loss && shown.Where(column => column.Sense.Unit == "g").ToArray() is [{ } grams])
        {
            table.Ask.Tell("computed-left-out", shown.Length - 1, [], string.Join(", ", shown.Where(column => column != grams)
                .Select(column => column.Name)));
            return [grams];
        }
        AskedColumn[] filled = [.. shown.Where(column => column.Filled > 0)];
        if (filled.Length == 1)
            return filled;
        string? answer = AskColumn(table, field, role, filled.Length > 0 ? filled : likely, mayLack: false);
        return answer is null ? likely : [.. likely.Where(column => column.Name == answer).DefaultIfEmpty(likely[0])];
    }

    /// <summary>Asks which of several columns a field is.</summary>
    public static string? AskColumn(AskedTable table, string field, LitterRole? role, AskedColumn[] among, bool mayLack,
        string? suggested = null)
    {
        Interview ask = table.Ask;
        table.Offered.UnionWith(among.Select(column => column.Ordinal));
        List<Choice> choices = [.. among.Select(column => new Choice(column.Name, column.Name))];
        if (mayLack)
            choices.Add(ask.Option("none", "no-column"));
        string id = IdOf(field, role);
        // an only column is likely, and of masses those that the campaign weighs
        string? basis = field is Initial or Final ? table.Campaign?.Bags.GetValueOrDefault("mass_basis") : null;
        AskedColumn[] likely = [.. among.Where(column => among.Length == 1 || (basis is not null && column.Sense.Basis == basis))];
        return ask.Choose(Interview.Columns, id, choices, suggested ?? (likely.Length == 1 ? likely[0].Name : null),
            [.. among.SelectMany(column => column.Seen().Take(2))],
            NameOf(field, role, ask.Words));
    }

    /// <summary>The id of the question which column a field is.</summary>
    public static string IdOf(string field, LitterRole? role) =>
        $"column:{field}" + role switch { LitterRole.Fast => ":fast", LitterRole.Slow => ":slow", _ => "" };

    public static string NameOf(string field, LitterRole? role, Phrases words) => words["ask.field." + field]
        + role switch { LitterRole.Fast => $" ({words["ask.fast"]})", LitterRole.Slow => $" ({words["ask.slow"]})", _ => "" };

    private static IEnumerable<(string Field, int Score)> Meanings(AskedColumn column, AskedTable table)
    {
        HeaderSense sense = column.Sense;
        bool isEmpty = column.Filled == 0;
        string[] words = [.. column.Distinct.Where(word => !StateWords.IsNothing(word))];
        if (words.Length > 0 && column.IsWords && words.All(word => RoleOf(word, table) is not null) && words.Length <= 8
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
            if (sense.Has(Concept.Moisture) && !sense.Has(Concept.Mass) && sense.Unit is null or "percent"
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
            else if (sense.Has(Concept.Sd))
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
            || (words.Length > 0 && words.All(word => HeaderWords.Read(word, null).Basis is not null))))
        {
            yield return (WithBag, 11);
        }
        if (sense.Has(Concept.Drying) && column.IsWords)
        {
            yield return (sense.Has(Concept.First) == sense.Has(Concept.Last) ? Drying
                : sense.Has(Concept.First) ? DryingInitial : DryingFinal, 7);
        }
        if (column.IsDates)
            yield break;
        foreach ((Concept concept, string field, int score) in Others)
        {
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

    private static readonly (Concept Concept, string Field, int Score)[] Others =
    [
        (Concept.Lot, Lot, 8), (Concept.Treatment, Treatment, 6), (Concept.Condition, Condition, 7), (Concept.Notes, Notes, 8),
        (Concept.Litter, Role, 6), (Concept.Site, Site, 6), (Concept.Burial, Burial, 5), (Concept.Bag, Bag, 5), (Concept.Plot, Plot, 5),
        (Concept.Replicate, Replicate, 5), (Concept.Number, Number, 4), (Concept.Depth, Depth, 6),
        (Concept.Ecosystem, Ecosystem, 6), (Concept.LandUse, LandUse, 6), (Concept.Elevation, Elevation, 6),
            (Concept.Management, Management, 5),
        (Concept.Days, Days, 5), (Concept.Rate, Rate, 3), (Concept.Stabilisation, Stabilisation, 3), (Concept.Unit, RateUnit, 4),
        (Concept.Count, Count, 2),
    ];

    /// <summary>The litter that a word stands for, by itself or by the campaign.</summary>
    public static LitterRole? RoleOf(string word, AskedTable table) =>
        (table.StateOfColour.GetValueOrDefault(word) ?? table.WordOfCampaign(word)) switch
        {
            "fast" => LitterRole.Fast,
            "slow" => LitterRole.Slow,
            _ => HeaderWords.RoleOf(word) ?? table.RoleByLegend(word),
        };

    // two columns of days without a telling name: what was dug up was buried before
    private static void DatesByOrder(AskedTable table)
    {
        if (table.Chosen.Keys.Any(key => key.Field is Buried or Retrieved))
            return;
        AskedColumn[] days = [.. table.Columns.Where(column => column.IsDates && !table.Chosen.ContainsValue(column))];
        if (days.Length != 2)
            return;
        (DateOnly? First, DateOnly? Second)[] pairs = [.. Enumerable.Range(0, table.Rows.Count)
            .Select(i => (DayReading.Certain(days[0].Cells[i]), DayReading.Certain(days[1].Cells[i]))).Where(pair => pair is ({ }, { }))];
        if (pairs.Length == 0)
            return;
        if (pairs.All(pair => pair.First < pair.Second))
            (table.Chosen[(Buried, null)], table.Chosen[(Retrieved, null)]) = (days[0], days[1]);
        else if (pairs.All(pair => pair.First > pair.Second))
            (table.Chosen[(Buried, null)], table.Chosen[(Retrieved, null)]) = (days[1], days[0]);
        else
            return;
        table.Ask.Tell("dates-by-order", 2, [], table.Chosen[(Buried, null)].Name, table.Chosen[(Retrieved, null)].Name);
    }

    // a bag is not buried on the day of its weighing unless somebody says so
    private static void DaysOfWeighings(AskedTable table)
    {
        (string Field, LitterRole? Role)[] days = [.. table.Chosen.Where(entry => entry.Key.Field is Buried or Retrieved
            && entry.Value.Header.IsOfWeighing && !entry.Value.Sense.HasAny(Concept.Burying, Concept.Retrieving))
            .Select(entry => entry.Key).Order()];
        if (days.Length == 0)
            return;
        string? answer = table.Ask.Choose(Interview.Columns, "weighing-days", [table.Ask.Option("yes", "weighing-days-yes"),
            table.Ask.Option("no", "weighing-days-no")], null, [.. days.SelectMany(day => table.Chosen[day].Seen().Take(3))]);
        foreach ((string Field, LitterRole? Role) day in answer == "no" ? days : [])
            table.Chosen.Remove(day);
    }

    private static void AskMissing(AskedTable table)
    {
        bool isAsked = AskMasses(table);
        foreach (LitterRole? role in isAsked ? [] : table.Roles)
        {
            if (table.Of(Initial, role) is null)
                AskOne(table, Initial, role, column => column.IsNumbers);
            if (table.Of(Final, role) is null && table.Of(Loss, role) is null && table.Of(Remaining, role) is null)
                AskOne(table, Final, role, column => column.IsNumbers);
        }
        AskLitter(table);
        if (table.Of(Buried) is null)
            AskOne(table, Buried, null, column => column.IsDates && !column.Header.IsOfWeighing);
        if (table.Of(Retrieved) is null && table.Of(Days) is null)
            AskOne(table, Retrieved, null, column => column.IsDates && !column.Header.IsOfWeighing);
    }

    /// <summary>The only litter that names of columns speak of, where no column says it of each row.</summary>
    public static LitterRole? OnlyRole(AskedTable table) => table.IsBurialRow || (table.Of(Role) ?? table.Of(Lot)) is not null ? null
        : table.Chosen.Where(entry => entry.Key.Field is Initial or Final or Loss or Remaining).Select(entry => table.RoleOf(entry.Value))
            .Distinct().ToArray() is [LitterRole only] ? only : null;

    private static void AskLitter(AskedTable table)
    {
        if (!table.IsBurialRow && table.Of(Role) is null && OnlyRole(table) is null && !(table.Of(Lot) is { } lot
            && lot.Distinct.All(l => CampaignLots.Find(l, table) is not null)))
        {
            AskRole(table);
        }
    }

    // before and after as one question where the values say which is which; true while it stands open
    private static bool AskMasses(AskedTable table)
    {
        AskedColumn? initial = table.Of(Initial), final = table.Of(Final);
        bool isWhole = initial is not null && (final ?? table.Of(Loss) ?? table.Of(Remaining)) is not null;
        if (table.IsBurialRow || isWhole)
            return false;
        AskedColumn[] free = [.. table.Columns.Where(column => !column.IsHidden && !table.Chosen.ContainsValue(column)
            && MassColumns.AreMasses(column))];
        if (MassColumns.Pair(initial is null ? free : [initial], final is null ? free : [final]) is not { } pair)
            return false;
        (AskedColumn before, AskedColumn after) = pair;
        Interview ask = table.Ask;
        string? answer = ask.Choose(Interview.Columns, "masses",
            [ask.Option("yes", "masses-yes"), ask.Option("turned", "masses-turned"), ask.Option("no", "masses-no")], "yes",
            [.. Enumerable.Range(0, Math.Min(3, table.Rows.Count)).SelectMany(row => new[] { before.SeenAt(row), after.SeenAt(row) })],
            before.Name, after.Name);
        if (answer is null or "no")
            return answer is null;
        table.Chosen[(Initial, null)] = answer == "turned" ? after : before;
        table.Chosen[(Final, null)] = answer == "turned" ? before : after;
        return false;
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

    // a remark on some bags names a litter, and tells that of no other row
    private static bool IsOfRemarks(AskedColumn column, AskedTable table) => column.Filled < table.Rows.Count
        && (column.Sense.HasAny(Concept.Notes, Concept.Condition)
            || column.Name.StartsWith(RowLooks.CommentColumn, StringComparison.Ordinal));

    // both bags of a hole lie in one place: by its name or position no litter is told
    private static bool IsOfPlaces(AskedColumn column) =>
        column.Sense.HasAny(Concept.Site, Concept.Position, Concept.Latitude, Concept.Longitude, Concept.Easting, Concept.Northing)
        || (column.Distinct.Count > 0 && column.Distinct.All(text => StateWords.IsNothing(text) || PlaceText.PairOf(text) is not null));

    private static void AskOne(AskedTable table, string field, LitterRole? role, Func<AskedColumn, bool> mayBe)
    {
        AskedColumn[] among = [.. table.Columns.Where(column => !table.Chosen.ContainsValue(column) && mayBe(column))];
        if (among.Length > 0 && AskColumn(table, field, role, among, mayLack: true) is { } name
            && among.FirstOrDefault(column => column.Name == name) is { } chosen)
        {
            table.Chosen[(field, role)] = chosen;
        }
    }
}
