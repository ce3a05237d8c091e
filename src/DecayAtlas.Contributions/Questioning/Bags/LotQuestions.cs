using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>Finds out which litter, and of which lot, each bag holds.</summary>
internal sealed class LotQuestions(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        table.RoleOfRow = new LitterRole?[table.Rows.Count];
        if (!table.IsBurialRow)
            Roles();
        Lots();
    }

    private void Roles()
    {
        if (table.Of(ColumnChoice.Role) is not { } column)
        {
            if (table.Of(ColumnChoice.Lot) is { } lots && table.Campaign is not null)
            {
                JsonObject byLot = MappingDraft.Column(lots);
                byLot["words"] = MappingDraft.Words(lots.Distinct.Select(text => (text, CampaignLots.Find(text, table)?["role"] ?? text)));
                table.Draft.Bags["role"] = byLot;
                for (int i = 0; i < table.Rows.Count; i++)
                {
                    table.RoleOfRow[i] = CampaignLots.Find(lots.TextAt(i), table)?["role"] switch
                    {
                        "fast" => LitterRole.Fast,
                        "slow" =>
                        LitterRole.Slow,
                        _ => null
                    };
                }
            }
            else if (LitterColumn.OnlyRole(table) is { } only)
            {
                table.Draft.Bags["role"] = MappingDraft.Value(Name(only));
                Array.Fill(table.RoleOfRow, only);
                _ask.Tell("one-litter", table.Rows.Count, [], _ask.Words["ask." + Name(only)]);
            }
            else if (!_ask.IsOpen("column:" + ColumnChoice.Role))
            {
                table.IsHopeless = "no-role";
            }
            return;
        }
        JsonObject source = MappingDraft.Column(column);
        List<(string, string)> words = [];
        Dictionary<string, LitterRole> meant = [];
        IReadOnlyDictionary<string, string> kinds = RoleColumns.KindsOf(column);
        Dictionary<string, LitterRole>? ofTwo = kinds.Count > 0
            && column.Distinct.Any(text =>
                !StateWords.IsNothing(text) && LitterColumn.RoleOf(text, table) is null) ? FastOf(column, kinds) : null;
        // both litters have words of their own: a third one is none of them
        bool isWhole = column.Distinct.Select(text => LitterColumn.RoleOf(text, table)).OfType<LitterRole>().Distinct().Count() == 2;
        HashSet<string> others = [];
        foreach (string text in column.Distinct)
        {
            LitterRole? role = ofTwo is null ? LitterColumn.RoleOf(text, table) : ofTwo.TryGetValue(kinds.GetValueOrDefault(text, ""),
                out LitterRole kind) ? kind : null;
            // a letter or a colour is a word that only the sender knows; two letters explain each other
            if (role is null && ofTwo is null && !StateWords.IsNothing(text))
            {
                string? answer = _ask.Choose(Interview.Meaning, "role-word:" + text,
                    [_ask.Option("fast", "fast"), _ask.Option("slow", "slow"), _ask.Option("-", "other-litter")],
                    Likely(text, column.Distinct) ?? (isWhole ? "-" : null), column.Seen(i => column.TextAt(i) == text), text);
                if (answer == "-")
                    others.Add(text);
                role = answer switch { "fast" => LitterRole.Fast, "slow" => LitterRole.Slow, _ => null };
            }
            if (role is not { } known)
                continue;
            meant[text] = known;
            words.Add((text, known == LitterRole.Fast ? "fast" : "slow"));
        }
        source["words"] = MappingDraft.Words(words);
        string[] byLegend = [.. meant.Keys.Where(text => HeaderWords.RoleOf(text) is null && table.WordOfCampaign(text) is null
            && (table.RoleByLegend(text) is not null || table.StateOfColour.GetValueOrDefault(text) is "fast" or "slow"))];
        _ask.Tell("role-by-legend", byLegend.Length, column.Seen(i => byLegend.Contains(column.TextAt(i))),
            string.Join(", ", byLegend.Select(Meaning)));
        table.Draft.Bags["role"] = source;
        int[] left = [.. Enumerable.Range(0, table.Rows.Count).Where(row => others.Contains(column.TextAt(row)))];
        _ask.Tell("other-litter", left.Length, [.. left.Select(table.SeenRow)], string.Join(", ", others));
        table.LeaveOut(left.Contains);
        column = table.Of(ColumnChoice.Role)!;
        for (int i = 0; i < table.Rows.Count; i++)
            table.RoleOfRow[i] = meant.TryGetValue(column.TextAt(i), out LitterRole role) ? role : null;

        string Meaning(string text) => (ColourName.IsColour(text) ? ColourName.Of(text, _ask.Words) : text)
            + $" = {_ask.Words["ask." + Name(meant[text])]}";
    }

    // two words of which not both are known: one question for both
    private Dictionary<string, LitterRole> FastOf(AskedColumn column, IReadOnlyDictionary<string, string> kindOf)
    {
        string[] kinds = [.. kindOf.Values.Distinct()];
        string? known = kinds.FirstOrDefault(kind => LitterColumn.RoleOf(kind, table) == LitterRole.Fast)
            ?? (kinds.FirstOrDefault(kind => LitterColumn.RoleOf(kind, table) == LitterRole.Slow) is { } slow
                ? kinds.First(kind => kind != slow) : null)
            ?? kinds.FirstOrDefault(kind => Likely(kind, kinds) == "fast");
        string? answer = _ask.Choose(Interview.Meaning, "fast-of",
            [.. kinds.Select(kind => new Choice(kind, kind)), _ask.Option("-", "fast-of-neither")],
            known ?? RoleColumns.LostMore(column, LitterColumn.Left(table)),
            [.. kinds.SelectMany(kind => Enumerable.Range(0, table.Rows.Count)
                .Where(i => kindOf.GetValueOrDefault(column.TextAt(i)) == kind).Take(4)).Select(table.SeenRow)], kinds[0], kinds[1],
            column.Name);
        if (answer == "-")
            table.IsHopeless = "no-role";
        return answer is null or "-" ? []
            : kinds.ToDictionary(kind => kind, kind => kind == answer ? LitterRole.Fast : LitterRole.Slow);
    }

    // the first letter of a word for one litter in a language whose other letter is there too
    private static string? Likely(string text, IReadOnlyList<string> all)
    {
        string letter = Identifier.Folded(text.Trim());
        bool Has(string other) => all.Any(word => Identifier.Folded(word.Trim()) == other);
        return (letter, Has("l"), Has("s"), Has("f")) switch
        {
            ("r", true, _, _) => "fast",
            ("s", true, _, false) => "fast",
            ("f", _, true, _) => "fast",
            ("s", _, _, true) => "slow",
            ("l", _, _, _) => "slow",
            _ => null,
        };
    }

    private void Lots()
    {
        if (table.Campaign is null)
        {
            OwnLots();
            return;
        }
        HashSet<string> used = [];
        foreach (LitterRole? role in table.Roles)
        {
            if (table.Of(ColumnChoice.Lot, role) is { } column)
            {
                JsonObject source = MappingDraft.Column(column);
                List<(string, string)> words = [];
                foreach (string text in column.Distinct)
                {
                    string? id = CampaignLots.Find(text, table)?["lot_id"] ?? _ask.Choose(Interview.Meaning, "lot-word:" + text,
                        [.. table.Campaign.Lots.Where(lot => role is null || lot["role"] == Name(role.Value)).Select(Option)], null,
                        column.Seen(i => column.TextAt(i) == text), text);
                    if (id is null)
                        continue;
                    words.Add((text, id));
                    used.Add(id);
                }
                source["words"] = MappingDraft.Words(words);
                table.Draft.BagsOf(role)["lot_id"] = source;
                continue;
            }
            foreach (LitterRole own in role is { } one ? [one] : new[] { LitterRole.Fast, LitterRole.Slow })
            {
                if (role is null && !table.RoleOfRow.Contains(own))
                    continue;
                IReadOnlyDictionary<string, string>[] among = [.. table.Campaign.Lots.Where(lot => lot["role"] == Name(own))];
                if (table.Group is { Lots.Count: > 0 } group && among.Any(lot => group.Lots.Contains(lot["lot_id"])))
                    among = [.. among.Where(lot => group.Lots.Contains(lot["lot_id"]))];
                // Alder-24 before, Alder-24 after
                IReadOnlyDictionary<string, string>[] named = [.. among.Where(lot => table.Chosen.Values.Any(column =>
                    CampaignLots.Names(column.Name, lot["lot_id"])))];
                if (named.Length == 1)
                    among = named;
                string? id = among.Length == 1 ? among[0]["lot_id"] : _ask.Choose(Interview.Meaning, "lot:" + Name(own),
                    [.. among.Select(Option)], null, [],
                    _ask.Words["ask." + Name(own)]);
                if (id is null)
                    continue;
                if (among.Length == 1)
                    _ask.Tell("lot", 1, [], id, _ask.Words["ask." + Name(own)]);
                table.LotOf[own] = id;
                used.Add(id);
            }
            if (role is { } bag && table.LotOf.TryGetValue(bag, out string? its))
                table.Draft.BagsOf(bag)["lot_id"] = MappingDraft.Value(its);
            else if (role is null && table.Draft.Bags["role"] is JsonObject roles)
                table.Draft.Bags["lot_id"] = LotByRole(roles);
        }
        foreach (IReadOnlyDictionary<string, string> known in table.Campaign.Lots.Where(lot => used.Contains(lot["lot_id"])))
        {
            IReadOnlyDictionary<string, string> lot = WithTareOfSheet(known);
            JsonObject stated = [];
            foreach (FieldSchema field in SchemaCatalogue.Lots.Fields)
            {
                if (lot.TryGetValue(field.Name, out string? value) && value.Length > 0)
                    stated[field.Name] = value;
            }
            table.Draft.Lots.Add(stated);
        }
    }

    // what says the litter of a row says its lot
    private JsonObject LotByRole(JsonObject roles)
    {
        JsonObject source = (JsonObject)roles.DeepClone();
        if (source["value"] is { } role)
            source["value"] = LotOf(role);
        JsonObject words = source["words"] as JsonObject ?? [];
        foreach ((string word, JsonNode? meaning) in words.ToArray())
            words[word] = LotOf(meaning!);
        return source;

        string LotOf(JsonNode role) => table.LotOf.GetValueOrDefault((string)role! == "fast" ? LitterRole.Fast : LitterRole.Slow, "");
    }

    // a tare in a line or a small table beside that is not the campaign's
    private IReadOnlyDictionary<string, string> WithTareOfSheet(IReadOnlyDictionary<string, string> lot)
    {
        if (CampaignLots.Number(lot, "tare_g") is not { } ofCampaign)
            return lot;
        foreach (TidyCell line in table.Lines)
        {
            string text = line.Value.Text;
            bool isOfAnother = !Names(text, lot) && table.Campaign!.Lots.Any(other => Names(text, other));
            if (isOfAnother || !LineFacts.IsOfEmptyBag(text) || LineFacts.GramsIn(text) is not [double said]
                || Math.Abs(said - ofCampaign) < 1e-6)
            {
                continue;
            }
            if (Asked(said, [AskedColumn.Shown(line, null)]))
                return new Dictionary<string, string>(lot) { ["tare_g"] = Written(said) };
        }
        foreach (SideTable side in table.Table.Beside.Where(side => side.Columns is not [{ Name: SideTable.Lines }]))
        {
            bool isOfTare = side.Columns.Any(column => HeaderWords.Read(column.Name, null).Has(Concept.Tare));
            foreach (IReadOnlyList<TidyCell> row in side.Rows)
            {
                string text = string.Join(' ', row.Select(AskedColumn.TextOf));
                bool isOfLot = text.Contains(lot["lot_id"], StringComparison.OrdinalIgnoreCase)
                    || side.Columns.Any(column => column.Name.Contains(lot["lot_id"], StringComparison.OrdinalIgnoreCase));
                if (!isOfLot || !(isOfTare || HeaderWords.Read(text, null).Has(Concept.Tare)))
                    continue;
                double[] masses = [.. row.Select(cell => AskedColumn.TextOf(cell).Replace(',', '.'))
                    .Select(t => double.TryParse(t, NumberStyles.Float,
                    CultureInfo.InvariantCulture, out double g) ? g : 0).Where(g => g is > 0.01 and < 5)];
                if (masses is not [double ofSheet] || Math.Abs(ofSheet - ofCampaign) < 1e-6)
                    continue;
                if (Asked(ofSheet, [.. row.Select(cell => AskedColumn.Shown(cell, null))]))
                    return new Dictionary<string, string>(lot) { ["tare_g"] = Written(ofSheet) };
            }
        }
        return lot;

        bool Asked(double sheet, IReadOnlyList<SeenCell> seen) => _ask.Choose(Interview.Meaning, "tare:" + lot["lot_id"],
            [_ask.Option("campaign", "tare-campaign", _ask.Words.Written(lot["tare_g"])),
                _ask.Option("sheet", "tare-sheet", sheet)], null,
            seen, lot["lot_id"], sheet, _ask.Words.Written(lot["tare_g"])) == "sheet";

        static bool Names(string text, IReadOnlyDictionary<string, string> one) => Array.Exists(
            text.Split([' ', ',', ';', ':', '(', ')', '='], StringSplitOptions.RemoveEmptyEntries),
            word => word.Equals(one["lot_id"], StringComparison.OrdinalIgnoreCase));

        static string Written(double grams) => grams.ToString("0.####", CultureInfo.InvariantCulture);
    }

    private static Choice Option(IReadOnlyDictionary<string, string> lot) => new(lot["lot_id"], lot["lot_id"]);

    private static string Name(LitterRole role) => role == LitterRole.Fast ? "fast" : "slow";

    // without a campaign the label of each litter is asked for
    private void OwnLots()
    {
        bool isByRole = true;
        foreach (LitterRole? role in table.Roles)
        {
            if (table.Of(ColumnChoice.Lot, role) is { } column)
            {
                isByRole = false;
                JsonObject source = MappingDraft.Column(column);
                source["form"] = "id";
                table.Draft.BagsOf(role)["lot_id"] = source;
                foreach (string text in column.Distinct)
                {
                    LitterRole? own = role ?? Enumerable.Range(0, table.Rows.Count).Where(i => column.TextAt(i) == text)
                        .Select(i => table.RoleOfRow[i]).FirstOrDefault(r => r is not null);
                    if (own is { } known)
                        AddLot(Identifier.Of(text), text, known);
                }
            }
        }
        if (!isByRole)
            return;
        foreach (LitterRole role in new[] { LitterRole.Fast, LitterRole.Slow })
        {
            if (!table.IsBurialRow && !table.RoleOfRow.Contains(role))
                continue;
            string name = Name(role);
            string id = _ask.Enter(Interview.Meaning, "lot:" + name, QuestionKind.Text, text => Identifier.Of(text).Length > 0, null, [],
                _ask.Words["ask." + name]) is { } answer ? Identifier.Of(answer) : name;
            AddLot(id, id == name ? _ask.Words.Say("ask.lot-of", _ask.Words["ask." + name]) : id, role);
            table.LotOf[role] = id;
            if (table.IsBurialRow)
                table.Draft.BagsOf(role)["lot_id"] = MappingDraft.Value(id);
        }
        if (!table.IsBurialRow && table.Draft.Bags["role"] is JsonObject roles)
            table.Draft.Bags["lot_id"] = LotByRole(roles);
    }

    private void AddLot(string id, string shown, LitterRole role)
    {
        JsonObject lot = new() { ["lot_id"] = id, ["role"] = Name(role) };
        foreach ((string field, double least, double most) in new (string, double, double)[]
        {
            ("hydrolysable_fraction", 0.001, 1), ("hydrolysable_fraction_sd", 0, 0.5), ("tare_g", 0, 1000),
        })
        {
            string? number = _ask.Enter(Interview.Meaning, $"lot-{field.Replace('_', '-')}:{id}", QuestionKind.Number,
                text => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double x) && x >= least && x <= most,
                    null, [], shown);
            if (number is not null && !(field == "tare_g" && double.Parse(number, CultureInfo.InvariantCulture) == 0))
                lot[field] = number;
        }
        table.Draft.Lots.Add(lot);
    }
}
