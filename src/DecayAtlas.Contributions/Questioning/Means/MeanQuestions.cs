using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Means;

/// <summary>Rows of means: of each the shares of both litters that were left, with their standard deviations, whatever the table says in
/// their place: losses, standard errors, masses, a row for each litter.</summary>
internal sealed class MeanQuestions(AskedTable table)
{
    /// <summary>What a row says of a litter (1); missing where it says nothing.</summary>
    private sealed record Left(double? Mean, double? Sd);

    private readonly Interview _ask = table.Ask;
    private readonly MeanCounts _counts = new(table);
    private readonly MeanSpreads _spreads = new(table);

    // under whose name the mapping says of each row what was worked out
    private AskedColumn? _anchor = MeanColumns.CountOf(table);

    /// <returns>The key of the sentence that says why it cannot be read; null where it can, or where something is asked.</returns>
    public string? Make()
    {
        bool areAlone = !MeanColumns.Are(table);
        LitterRole?[] roles = areAlone ? [.. table.Roles] : MeanColumns.AreOfShares(table) ? MeanColumns.RolesOfShares(table)
            : MeanColumns.RolesOfMasses(table);
        bool isOfBoth = roles.Length == 2;
        table.IsBurialRow = isOfBoth;
        new LotQuestions(table).Make();
        table.IsBurialRow = false;
        if (table.IsHopeless is not null)
            return table.IsHopeless;
        Dictionary<LitterRole, Left[]> left = [];
        if (!areAlone)
            _counts.Make();
        foreach (LitterRole? role in roles)
        {
            MeanColumn? share = areAlone ? new MeanColumn(ShareColumns.Of(table, role)!, null)
                : MeanColumns.AreOfShares(table) ? MeanColumns.ShareOf(table, role) : null;
            if ((share is null ? OfMasses(role) : OfShares(share, role)) is not { } of)
                return table.IsHopeless ?? "means-only";
            foreach (LitterRole own in role is { } one ? new[] { one } : [LitterRole.Fast, LitterRole.Slow])
                left[own] = of;
        }
        int[] fast = [.. Enumerable.Range(0, table.Rows.Count)], slow = fast;
        if (!isOfBoth)
        {
            if (Pairs() is not { } pairs)
                return "means-only";
            (fast, slow) = pairs;
            if (table.Of(ColumnChoice.Role) is { } litter)
                table.ReadByRow.Add(litter.Ordinal);
        }
        Write(fast, slow, left, isOfBoth);
        return null;
    }

    // a row of the fast litter and one of the slow that agree in all that names a burial; where one has none, -1
    private (int[] Fast, int[] Slow)? Pairs()
    {
        AskedColumn[] key = [.. new[] { ColumnChoice.Site, ColumnChoice.Treatment, ColumnChoice.Plot, ColumnChoice.Burial,
            ColumnChoice.Replicate, ColumnChoice.Days, ColumnChoice.Buried, ColumnChoice.Retrieved, ColumnChoice.Position }
            .Select(field => table.Of(field)).OfType<AskedColumn>()];
        table.ReadByRow.UnionWith(key.Select(column => column.Ordinal));
        int[][] groups = [.. Enumerable.Range(0, table.Rows.Count).GroupBy(row => string.Join('\n', key.Select(column =>
            column.TextAt(row)))).Select(own => own.ToArray())];
        (int[] Fast, int[] Slow)[] pairs = [.. groups.Select(rows => (Of(rows, LitterRole.Fast), Of(rows, LitterRole.Slow)))];
        return Array.Exists(pairs, pair => pair.Fast.Length > 1 || pair.Slow.Length > 1 || pair.Fast.Length + pair.Slow.Length == 0)
            ? null : ([.. pairs.Select(pair => One(pair.Fast))], [.. pairs.Select(pair => One(pair.Slow))]);

        int[] Of(int[] rows, LitterRole role) => [.. rows.Where(row => table.RoleOfRow[row] == role)];

        static int One(int[] rows) => rows.Length == 0 ? -1 : rows[0];
    }

    private void Write(int[] fast, int[] slow, Dictionary<LitterRole, Left[]> left, bool isOfBoth)
    {
        JsonObject results = table.Draft.Results;
        int[] kept = [.. fast.Zip(slow, (one, other) => one >= 0 ? one : other)];
        string?[] counts = [.. fast.Zip(slow, (one, other) => new[] { one, other }.Where(row => row >= 0)
            .Select(row => _counts.At(row, null)).Min() is { } n ? Text(n) : null)];
        Dictionary<LitterRole, string?[]> lots = [];
        foreach ((LitterRole role, int[] rows) in new[] { (LitterRole.Fast, fast), (LitterRole.Slow, slow) })
        {
            lots[role] = [.. rows.Select(row => row < 0 ? null : CampaignLots.OfRow(table, row, role)?["lot_id"]
                ?? table.LotOf.GetValueOrDefault(role))];
        }
        int anchor = _anchor!.Ordinal;
        if (!isOfBoth)
        {
            HashSet<int> staying = [.. kept];
            table.LeaveOut(row => !staying.Contains(row));
            int[] order = [.. Enumerable.Range(0, kept.Length).OrderBy(i => kept[i])];
            (fast, slow) = ([.. order.Select(i => fast[i])], [.. order.Select(i => slow[i])]);
            counts = [.. order.Select(i => counts[i])];
            foreach (LitterRole role in lots.Keys.ToArray())
                lots[role] = [.. order.Select(i => lots[role][i])];
        }
        AskedColumn at = table.Columns[anchor];
        results["burials"] = _counts.OfAll is { } same ? MappingDraft.Value(Text(same)!) : PerRow(at, counts);
        foreach ((LitterRole role, int[] rows) in new[] { (LitterRole.Fast, fast), (LitterRole.Slow, slow) })
        {
            string name = role == LitterRole.Fast ? "fast" : "slow";
            results[name + "_lot_id"] = lots[role].Distinct().ToArray() is [{ } only] ? MappingDraft.Value(only) : PerRow(at, lots[role]);
            Left?[] own = [.. rows.Select(row => row < 0 ? null : left[role][row])];
            results[name + "_remaining_mean"] = PerRow(at, [.. own.Select(one => Text(one?.Mean))]);
            results[name + "_remaining_sd"] = PerRow(at, [.. own.Select(one => Text(one?.Sd))]);
        }
    }

    private JsonObject PerRow(AskedColumn at, string?[] values)
    {
        JsonObject source = MappingDraft.Column(at);
        source["form"] = "listed";
        for (int row = 0; row < values.Length; row++)
            MappingDraft.SetRow(source, table.RowNames[row], at.TextAt(row), values[row] ?? "");
        return source;
    }

    private static string? Text(double? number) => number is { } x ? Math.Round(x, 8).ToString(CultureInfo.InvariantCulture) : null;

    private Left[]? OfShares(MeanColumn column, LitterRole? role)
    {
        AskedColumn mean = column.Mean;
        double?[] shares = Numbers(mean);
        double scale = mean.Sense.Unit == "percent" || shares.Any(share => Math.Abs(share ?? 0) > 1.5) ? 100 : 1;
        bool isLoss = ShareColumns.IsLoss(table, mean);
        // a change says with a minus what was lost
        if (mean.Sense.Has(Concept.Change) && Array.Exists(shares, share => share < 0))
            shares = [.. shares.Select(share => -share)];
        if (table.Campaign is null || table.Campaign.Bags.GetValueOrDefault("mass_basis") == "gross")
        {
            string? of = mean.Sense.Has(Concept.OfLitter) ? "litter" : _ask.Choose(Interview.Meaning, "share-of",
                [_ask.Option("litter", "share-of-litter"), _ask.Option("all", "share-of-all")], null, mean.Seen(), mean.Name);
            if (of == "all")
            {
                table.IsHopeless = "share-of-all";
                return null;
            }
        }
        double?[] sds = Deviations(column.Spread, role);
        return [.. shares.Select((share, row) => new Left(isLoss ? 1 - share / scale : share / scale, sds[row] / scale))];
    }

    // The mean share of a few bags is near enough that of their mean masses. What is known of the masses before and after scatters by
    // itself (JCGM 100:2008, 5.1.2), which is the most that it can be where heavier bags stay heavier.
    private Left[]? OfMasses(LitterRole? role)
    {
        (MeanColumn first, MeanColumn last) = (MeanColumns.MassOf(table, role, Concept.First)!,
            MeanColumns.MassOf(table, role, Concept.Last)!);
        string[] said = [.. new[] { first, last }.Select(column => column.Mean.Sense.Basis).OfType<string>().Distinct()];
        if (said.Length > 1)
            return null;
        bool isGross = (said.FirstOrDefault() ?? table.Campaign?.Bags.GetValueOrDefault("mass_basis") ?? _ask.Choose(Interview.Meaning,
            "basis", [_ask.Option("gross", "gross"), _ask.Option("litter", "litter")], null, first.Mean.Seen())) != "litter";
        if (said.Length == 0 && IsOther(first.Mean, role, isGross))
        {
            isGross ^= _ask.Choose(Interview.Meaning, "basis-odd", [_ask.Option("as-stated", isGross ? "basis-gross" : "basis-litter"),
                _ask.Option("odd", isGross ? "basis-litter" : "basis-gross")], null, first.Mean.Seen(), table.Rows.Count,
                table.Rows.Count) == "odd";
        }
        double?[] before = Grams(first.Mean), after = Grams(last.Mean), scatterBefore = Scatter(first), scatterAfter = Scatter(last);
        Left[] left = new Left[before.Length];
        for (int row = 0; row < left.Length; row++)
        {
            double? bag = isGross ? TareOf(row, role ?? table.RoleOfRow[row]) : 0;
            if (bag is null && before[row] is not null)
                return null;
            (double? one, double? other) = (before[row] - bag, after[row] - bag);
            double? share = other / one, ofFirst = (scatterBefore[row] ?? 0) / one, ofLast = scatterAfter[row] / other;
            left[row] = new Left(share, ofLast is null ? null : share * Math.Sqrt(Math.Pow(ofFirst ?? 0, 2) + Math.Pow(ofLast.Value, 2)));
        }
        _ask.Tell("means-of-masses", left.Count(one => one.Mean is not null), first.Mean.Seen(), first.Mean.Name, last.Mean.Name);
        return left;

        double?[] Scatter(MeanColumn column) => [.. Deviations(column.Spread, role).Select(sd => sd * ScaleOf(column.Mean))];
    }

    // the first means lie where those of the other way of weighing should
    private bool IsOther(AskedColumn first, LitterRole? role, bool isGross)
    {
        double?[] before = Grams(first);
        return Enumerable.Range(0, before.Length).Any(row => before[row] is { } grams && (role ?? table.RoleOfRow[row]) is { } own
            && CampaignLots.OfRow(table, row, own) is { } lot
            && CampaignLots.FitsOther(lot, grams, isGross ? "gross" : "litter") == true);
    }

    private static double ScaleOf(AskedColumn column) => Units.InGrams(column.Sense.Unit) ?? 1;

    private double?[] Grams(AskedColumn column) => [.. Numbers(column).Select(number => number * ScaleOf(column))];

    private double? TareOf(int row, LitterRole? role)
    {
        if (role is not { } own)
            return null;
        if (CampaignLots.OfRow(table, row, own) is { } lot)
            return CampaignLots.Number(lot, "tare_g");
        return table.Draft.Lots.OfType<JsonObject>().Where(stated => (string?)stated["lot_id"] == table.LotOf.GetValueOrDefault(own))
            .Select(stated => (string?)stated["tare_g"]).FirstOrDefault() is { } text
            && double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double grams) ? grams : null;
    }

    private double?[] Deviations(AskedColumn? spread, LitterRole? role)
    {
        if (spread is null)
            return new double?[table.Rows.Count];
        Func<double, int, double?> toSd = _spreads.ToSd(spread);
        return [.. Numbers(spread).Select((number, row) => number is { } x && _counts.At(row, role) is { } n ? toSd(x, (int)n) : null)];
    }

    private double?[] Numbers(AskedColumn column)
    {
        _anchor ??= column;
        table.ReadByRow.Add(column.Ordinal);
        return [.. Enumerable.Range(0, column.Cells.Count).Select(row => NumberForm.Of(column)[0].Read(column, row))];
    }
}
