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

    private const string MeanOfTwo = "mean-of-two";

    public static void Make(AskedTable table)
    {
        WeighedWithError.Ask(table);
        IReadOnlyList<(AskedColumn Column, string Field, string Day)> dated = DatedMasses.In(table);
        // a column is what it is most likely
        (AskedColumn Column, string Field, int Score)[] meant =
        [
            .. dated.Select(one => (one.Column, one.Field, 9)),
            .. table.Columns.Where(column => column.Header.Part != CellPart.Count && dated.All(one => one.Column != column))
                .Select(column => (column, Of: ColumnMeanings.Of(column, table).ToArray())).Where(entry => entry.Of.Length > 0)
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
            // what was weighed, and what goes before it where it was corrected
            if (field.Key.Field is Initial or Final && CorrectedMasses.Plain([.. field.Select(claim => claim.Column)
                .Where(column => !column.IsHidden)], table) is { } plain)
            {
                likely = [plain];
            }
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
        // what is left, in grams, is the mass after
        foreach (((string Field, LitterRole? Role) key, AskedColumn left) in table.Chosen.Where(entry => entry.Key.Field == Remaining
            && Units.InGrams(entry.Value.Sense.Unit) is not null).ToArray())
        {
            if (table.Chosen.TryAdd((Final, key.Role), left))
                table.Chosen.Remove(key);
        }
        if (!table.IsBurialRow && table.Of(Role) is null
            && table.Columns.FirstOrDefault(column => column.Distinct.Count >= 2 && !ColumnMeanings.IsOfRemarks(column, table)
                && column.Distinct.All(text => LitterColumn.RoleOf(text, table) is not null)) is { } telling)
        {
            table.Chosen[(Role, null)] = telling;
        }
        // titles above joined tables, or the sheets they stand on, name what their rows have in common
        if (table.Of(Site) is null && table.Columns.FirstOrDefault(column =>
            column.Name is BlockJoiner.TitleColumn or BlockJoiner.SheetColumn && !table.Chosen.ContainsValue(column)
            && column.Filled == table.Rows.Count && column.Distinct.Count > 1
                && !column.Distinct.Any(text => LitterColumn.RoleOf(text, table) is not null)) is { } common)
        {
            table.Chosen[(Site, null)] = common;
        }
        DatesByOrder(table);
        DaysOfWeighings(table);
        DatedMasses.Ask(table, dated);
        Durations.Ask(table);
        if (IsOfBags(table))
            AskMissing(table);
        else if (!MeanColumns.Are(table) && ShareColumns.AreAlone(table))
            LitterColumn.Ask(table);
        SiteColumns.Ask(table);
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
        if (answer == MeanOfTwo)
        {
            table.MeanWith[filled[0].Ordinal] = filled[1].Ordinal;
            return [filled[0]];
        }
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
        // weighed twice, on two days or two balances
        if (!mayLack && field is Initial or Final && among is [{ Filled: > 0 } one, { Filled: > 0 } other]
            && one.Sense.Unit == other.Sense.Unit && one.Sense.Basis == other.Sense.Basis)
        {
            choices.Add(ask.Option(MeanOfTwo, "mean-of-two"));
        }
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
        LitterColumn.Ask(table);
        if (table.Of(Buried) is null)
            AskOne(table, Buried, null, column => column.IsDates && !column.Header.IsOfWeighing);
        if (table.Of(Retrieved) is null && table.Of(Days) is null)
            AskOne(table, Retrieved, null, column => column.IsDates && !column.Header.IsOfWeighing);
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

    /// <summary>Asks for a field that no column was given to, among those that may be it.</summary>
    public static void AskOne(AskedTable table, string field, LitterRole? role, Func<AskedColumn, bool> mayBe)
    {
        AskedColumn[] among = [.. table.Columns.Where(column => !table.Chosen.ContainsValue(column) && mayBe(column))];
        if (among.Length > 0 && AskColumn(table, field, role, among, mayLack: true) is { } name
            && among.FirstOrDefault(column => column.Name == name) is { } chosen)
        {
            table.Chosen[(field, role)] = chosen;
        }
    }
}
