using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>Words that stand for what became of a bag: in columns of masses in place of a number or beside it, and in a column of their
/// own.</summary>
internal sealed class StateQuestions(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    /// <summary>The words of a column of masses that stand in place of a number, each with nothing; what is not known is asked.</summary>
    public IReadOnlyList<(string Word, string Meaning)> WordsOf(AskedColumn column, Func<string, bool> isNumber, bool isFirst)
    {
        List<(string, string)> words = [];
        foreach (string text in column.Distinct.Where(text => !isNumber(text)))
        {
            string? state = isFirst ? StateOfFirst(text) : StateOf(text, column);
            if (state is "lost" or "empty" or "torn" or "roots" or "intact")
                words.Add((text, ""));
        }
        return words;
    }

    /// <summary>What became of a bag and was weighed all the same, where it stands before the number of its mass.</summary>
    public static string? StateBefore(string text) => WrittenNumber.BehindWords(text) is not null
        && StateWords.ConditionOf(text) is "torn" or "roots" or "intact" ? StateWords.ConditionOf(text) : null;

    /// <summary>Conditions of bags and remarks from all columns that tell of them.</summary>
    public void Make()
    {
        foreach (LitterRole? role in table.Roles)
        {
            List<JsonObject> conditions = [], notes = [];
            Coloured(role, conditions, notes);
            foreach (AskedColumn column in new[] { ColumnChoice.Final, ColumnChoice.Loss, ColumnChoice.Remaining, ColumnChoice.Initial }
                .Select(field => table.Of(field, role)).OfType<AskedColumn>().Where(column => !column.IsHidden))
            {
                List<(string, string)> states = [];
                bool isFirst = column == table.Of(ColumnChoice.Initial, role);
                List<string> several = [];
                bool hasBeside = false, hasText = false;
                foreach (string text in column.Distinct)
                {
                    if (WrittenNumber.Of(text) is { } written)
                    {
                        hasBeside |= written.Beside.Length > 0;
                        if (written.Beside.Length > 0 && StateWords.ConditionOf(written.Beside) is { } beside and not "lost")
                            states.Add((text, beside));
                    }
                    else if (StateBefore(text) is { } before)
                    {
                        states.Add((text, before));
                        hasText = true;
                    }
                    else if (WrittenNumber.SeveralIn(text).Count > 0)
                    {
                        several.Add(text);
                    }
                    else if (!isFirst && column.Cells.Any(cell => AskedColumn.TextOf(cell) == text && cell.Value.Kind == SheetCellKind.Text)
                        && StateOf(text, column) is { } state and not "empty")
                    {
                        states.Add((text, state));
                        hasText |= text.Contains(' ', StringComparison.Ordinal) || StateWords.ConditionOf(text) is null;
                    }
                }
                if (states.Count > 0)
                {
                    JsonObject source = MappingDraft.Column(column);
                    source["form"] = "listed";
                    source["words"] = MappingDraft.Words(states);
                    conditions.Add(source);
                    int lost = states.Where(s => s.Item2 == "lost").Sum(s =>
                        column.Cells.Count(cell => AskedColumn.TextOf(cell) == s.Item1));
                    if (lost > 0)
                    {
                        _ask.Tell("lost", lost, column.Seen(i => states.Any(s => s.Item2 == "lost" && s.Item1 == column.TextAt(i))),
                            string.Join(", ", states.Where(s => s.Item2 == "lost").Select(s => s.Item1)));
                    }
                }
                if (hasBeside)
                {
                    JsonObject source = MappingDraft.Column(column);
                    source["form"] = "beside-number";
                    notes.Add(source);
                    _ask.Tell("beside", column.Distinct.Count(t => WrittenNumber.Of(t)?.Beside.Length > 0),
                        column.Seen(i => WrittenNumber.Of(column.TextAt(i))?.Beside.Length > 0), column.Name);
                }
                if (hasText || several.Count > 0)
                {
                    JsonObject source = MappingDraft.Column(column);
                    source["form"] = "listed";
                    source["words"] = MappingDraft.Words(states.Where(s => WrittenNumber.Of(s.Item1) is null)
                        .Select(s => s.Item1).Concat(several).Select(text => (text, text)));
                    notes.Add(source);
                }
            }
            Stated(role, conditions, notes);
            if (conditions.Count > 0)
                table.Draft.BagsOf(role)["condition"] = Joined(conditions);
            if (notes.Count > 0)
                table.Draft.BagsOf(role)["notes"] = Joined(notes);
        }
    }

    // a number in a row whose colour says that the bag is lost, or not to be used, is left over
    private void Coloured(LitterRole? role, List<JsonObject> conditions, List<JsonObject> notes)
    {
        if (table.Colours.Count == 0)
            return;
        (string Colour, string State)[] states = [.. table.Colours.SelectMany(column => column.Distinct).Select(colour =>
            (colour, table.StateOfColour.GetValueOrDefault(colour, "nothing")))];
        string[] without = [.. states.Where(entry => entry.State is "lost" or "leave-out").Select(entry => entry.Colour)];
        // in a row of two bags a coloured cell speaks of its own
        AskedColumn[] columns = role is { } own ? [.. ColumnsOf(own).Where(column => column.Cells.Any(cell =>
            cell.Look is { } look && states.Any(entry => entry.State != "nothing"
                && (entry.Colour == look.Fill || entry.Colour == look.Ink))))]
            : [.. table.Colours];
        if (columns.Length == 0)
            return;
        if (without.Length > 0 && table.Draft.BagsOf(role)["mass_final_g"] is JsonObject final)
        {
            final["unless"] = new JsonObject
            {
                [role is null ? "columns" : "colour_of"] = new JsonArray([.. columns.Select(column => JsonValue.Create(column.Name))]),
                ["words"] = new JsonArray([.. without.Select(word => JsonValue.Create(word))])
            };
        }

        if (states.Any(entry => entry.State is "lost" or "torn"))
            conditions.AddRange(columns.Select(column => Listed(column, states.Where(entry => entry.State is "lost" or "torn"))));
        if (states.Any(entry => entry.State == "leave-out"))
        {
            notes.AddRange(columns.Select(column => Listed(column, states.Where(entry => entry.State == "leave-out")
                .Select(entry => (entry.Colour, _ask.Words["ask.choice.not-used"])))));
        }

        JsonObject Listed(AskedColumn column, IEnumerable<(string, string)> words)
        {
            JsonObject source = MappingDraft.Column(column);
            source["form"] = role is null ? "listed" : "colour";
            source["words"] = MappingDraft.Words(words);
            return source;
        }
    }

    // of a row with two bags those of one bag and those of both
    private IEnumerable<AskedColumn> ColumnsOf(LitterRole role) => table.Columns.Where(column => !table.Colours.Contains(column)
        && (table.RoleOf(column) is null || table.RoleOf(column) == role)
        && (table.Chosen.Where(entry => entry.Value == column).Select(entry => entry.Key.Role).ToArray() is not { Length: > 0 } roles
            || roles.Any(own => own is null || own == role)));

    // a column of conditions, remarks, notes on cells
    private void Stated(LitterRole? role, List<JsonObject> conditions, List<JsonObject> notes)
    {
        if (table.Of(ColumnChoice.Condition, role) is { } column && (role is null || table.RoleOf(column) == role || !table.IsBurialRow))
        {
            List<(string, string)> words = [.. column.Distinct.Select(text =>
                (text, table.WordOfCampaign(text) ?? StateWords.ConditionOf(text)))
                .Where(entry => entry.Item2 is "lost" or "torn" or "roots" or "intact").Select(entry => (entry.text, entry.Item2!))];
            JsonObject source = MappingDraft.Column(column);
            source["form"] = "listed";
            source["words"] = MappingDraft.Words(words);
            conditions.Add(source);
            string[] others = [.. column.Distinct.Where(text => words.TrueForAll(word => word.Item1 != text))];
            if (others.Length > 0)
            {
                notes.Add(MappingDraft.Column(column));
                _ask.Tell("condition-to-notes", others.Length, column.Seen(i => others.Contains(column.TextAt(i))), column.Name);
            }
        }
        foreach (SaidOfBags said in SaidOf(role).Where(said => said.Beside is null))
        {
            notes.Add(said.Source());
            (string, string)[] states =
            [
                .. said.Texts.Where(text => table.MaySpeakOf(role, text))
                    .Select(text => (text, StateWords.DamageIn(text) ?? Lost(text, said, role)))
                    .Where(entry => entry.Item2 is not null)
                    .Select(entry => (entry.text, entry.Item2!)),
            ];
            if (states.Length > 0)
                conditions.Add(said.Source(states));
        }
    }

    /// <summary>Remarks, notes on cells and words in the cells of masses that speak of the bags of a litter.</summary>
    public IEnumerable<SaidOfBags> SaidOf(LitterRole? role)
    {
        foreach (AskedColumn remarks in table.Remarks)
        {
            if (role is not null && table.RoleOf(remarks) is { } own && own != role)
                continue;
            // in a row of two bags a comment speaks of the bag of its cell
            bool areOfCells = role is not null && remarks.Name.StartsWith(RowLooks.CommentColumn, StringComparison.Ordinal)
                && table.Columns.Any(column => column.Cells.Any(cell => cell.Look?.Comment is not null));
            foreach (AskedColumn said in areOfCells
                ? ColumnsOf(role!.Value).Where(column => column.Cells.Any(cell => cell.Look?.Comment is not null)) : [remarks])
            {
                yield return new SaidOfBags(said, areOfCells);
            }
        }
        foreach (AskedColumn mass in new[] { ColumnChoice.Initial, ColumnChoice.Final }.Select(field => table.Of(field, role))
            .OfType<AskedColumn>().Where(column => !column.IsHidden))
        {
            if (CellRemarks.In(table, mass) is { Count: > 0 } beside)
                yield return new SaidOfBags(mass, false) { Beside = beside };
        }
    }

    // A remark that a bag was lost. Without a last mass it was; weg or missing among other words may be another thing and is asked. Beside
    // a mass of it after all it is asked too: where it was lost, what was weighed is not of this bag.
    private string? Lost(string text, SaidOfBags said, LitterRole? role)
    {
        bool isSaid = StateWords.IsLossIn(text);
        if ((!isSaid && StateWords.ConditionOf(text) != "lost") || table.LastOf(role) is not { } last)
            return null;
        int[] own = [.. Enumerable.Range(0, table.Rows.Count).Where(row => said.TextAt(row) == text)];
        int[] rows = [.. own.Where(row => last.TextAt(row).Any(char.IsAsciiDigit))];
        if (rows.Length == 0 && own.All(row => last.TextAt(row).Length == 0))
        {
            return isSaid ? "lost" : _ask.Choose(Interview.Meaning, "unweighed:" + text, [_ask.Option("lost", "lost"),
                _ask.Option("-", "not-weighed")], "lost", [.. own.Select(table.SeenRow)], text) == "lost" ? "lost" : null;
        }
        // of two bags it speaks of the one that was not weighed again
        if (rows.Length == 0 || !isSaid || (role is { } one && rows.All(row => table.LastOf(one == LitterRole.Fast ? LitterRole.Slow
            : LitterRole.Fast)?.TextAt(row).Length == 0)))
        {
            return null;
        }
        string? answer = _ask.Choose(Interview.Meaning, "lost-yet-weighed:" + text, [_ask.Option("lost", "lost"),
            _ask.Option("torn", "torn"), _ask.Option("-", "colour-nothing")], null, [.. rows.Select(table.SeenRow)], text);
        if (answer == "lost" && table.Draft.BagsOf(role)["mass_final_g"] is JsonObject final)
        {
            foreach (int row in rows)
                MappingDraft.SetRow(final, table.RowNames[row], last.TextAt(row), "");
        }
        return answer is "lost" or "torn" ? answer : null;
    }

    private static JsonObject Joined(List<JsonObject> sources)
    {
        JsonObject first = sources[0];
        if (sources.Count > 1)
            first["or"] = new JsonArray([.. sources.Skip(1)]);
        return first;
    }

    // in place of a first mass nothing stands but nothing
    private static string? StateOfFirst(string text) => StateWords.IsNoValue(text) ? "empty" : null;

    private string? StateOf(string text, AskedColumn column)
    {
        string? stated = table.WordOfCampaign(text);
        if (stated is "lost" or "torn" or "roots" or "intact")
            return stated;
        // asked of the masses
        if (WrittenNumber.InSigns(text) is not null && (_ask.IsOpen("word:" + text) || _ask.AnswerTo("word:" + text) == "number"))
            return null;
        string? meant = StateWords.ConditionOf(text);
        if (meant == "lost" && !text.Any(char.IsAsciiDigit))
            return "lost";
        // a dash or n.a. in a column of last masses is a bag that was not weighed again; a question mark may be anything
        if (StateWords.IsNothing(text) && !StateWords.IsDoubtful(text))
            return "lost";
        return _ask.Choose(Interview.Meaning, "word:" + text,
            [_ask.Option("lost", "lost"), _ask.Option("empty", "not-weighed"), _ask.Option("torn", "torn")], StateWords.IsDoubtful(text)
                ? "lost" : meant,
            column.Seen(i => column.TextAt(i) == text), text, column.Name);
    }
}
