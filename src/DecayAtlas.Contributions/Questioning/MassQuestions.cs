using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>Finds out how masses are written and what they are masses of: signs of thousands, units, losses and shares, the bag weighed
/// with them or not, one mass for many bags.</summary>
internal sealed class MassQuestions(AskedTable table)
{
    // what litter in a bag can weigh (g), first and last (common practice, no source)
    private const double LeastFirst = 0.1, LeastLast = 0.01, Most = 20;

    private static readonly string[] UnitsOfMass = ["g", "mg"];

    private readonly Interview _ask = table.Ask;
    private readonly Dictionary<AskedColumn, (NumberForm Form, double Scale)> _read = [];

    public void Make()
    {
        foreach (LitterRole? role in table.Roles)
        {
            if (table.Of(ColumnChoice.Initial, role) is { } initial)
                table.Draft.BagsOf(role)["mass_initial_g"] = Mass(initial, isFirst: true);
            AskedColumn? final = table.Of(ColumnChoice.Final, role), loss = table.Of(ColumnChoice.Loss, role),
                remaining = table.Of(ColumnChoice.Remaining, role);
            if (final is { Filled: > 0 } || (final is not null && loss is null && remaining is null))
            {
                table.Draft.BagsOf(role)["mass_final_g"] = Mass(final, isFirst: false);
                foreach (AskedColumn computed in new[] { loss, remaining }.OfType<AskedColumn>())
                    _ask.Tell("computed-left-out", 1, computed.Seen(), computed.Name);
            }
            else if ((loss ?? remaining) is { } share)
            {
                table.Draft.BagsOf(role)["mass_final_g"] = Share(share, isLoss: share == loss);
            }
        }
        Slipped();
        NetOdd();
        Basis();
        OneForMany();
        NothingLast();
    }

    /// <summary>The mass in a row (g) as it will be read; null where there is none.</summary>
    public double? Grams(AskedColumn column, int row)
    {
        (NumberForm form, double scale) = _read[column];
        string? own = column.TypedNumber(row) is null ? WrittenNumber.Of(column.TextAt(row))?.Unit : null;
        return form.Read(column, row) * (own switch { "g" => 1, "mg" => 0.001, "kg" => 1000, _ => scale });
    }

    private JsonObject Mass(AskedColumn column, bool isFirst)
    {
        JsonObject source = MappingDraft.Column(column);
        string? unit = column.Sense.Unit is "g" or "mg" or "kg" ? column.Sense.Unit : null;
        (NumberForm Form, string Unit)[] ways =
        [
            .. NumberForm.Of(column).SelectMany(form => (unit is null ? UnitsOfMass : [unit]).Select(u => (form, u))),
        ];
        (NumberForm Form, string Unit)[] plausible = [.. ways.Where(way => AreMasses(column, way.Form, way.Unit, isFirst))];
        // two ways to the same masses are one
        plausible = [.. plausible.DistinctBy(way => string.Join(';', Enumerable.Range(0, column.Cells.Count)
            .Select(i => GramsIn(column, i, way.Form, way.Unit) is { } g ? g.ToString("G6", CultureInfo.InvariantCulture) : "")))];
        (NumberForm Form, string Unit) chosen = plausible.Length > 0 ? plausible[0] : ways[0];
        bool areAnyNumbers = Enumerable.Range(0, column.Cells.Count).Any(i => chosen.Form.Read(column, i) is not null);
        if (plausible.Length > 1)
        {
            AskedColumn asked = column;
            string? answer = _ask.Choose(Interview.Values, "number:" + column.Name,
                [.. plausible.Select((way, i) => new Choice(Invariant($"{i}"), Shown(asked, way.Form, way.Unit)))], null, column.Seen(),
                    column.Name);
            chosen = plausible[answer is null ? 0 : int.Parse(answer, CultureInfo.InvariantCulture)];
        }
        else if (plausible.Length == 0 && areAnyNumbers)
        {
            chosen = Implausible(column, ways, unit, source);
        }
        else if (chosen.Form.Thousands is '.' or ',' && column.Cells.Any(cell => cell.Value.Kind == SheetCellKind.Text))
        {
            _ask.Tell("thousands", column.Filled, column.Seen(), column.Name, Shown(column, chosen.Form, chosen.Unit));
        }
        if (unit is null && areAnyNumbers && chosen.Unit != "g")
            _ask.Tell("unit-by-values", column.Filled, column.Seen(), column.Name, chosen.Unit);
        chosen.Form.WriteInto(source, column);
        if (chosen.Unit != "g")
            source["unit"] = chosen.Unit;
        _read[column] = (chosen.Form, ScaleOf(chosen.Unit));
        if (chosen.Form.DecimalSign == '\0')
            _ask.Tell("both-signs", column.Filled, column.Seen(), column.Name);
        AddWords(source, new StateQuestions(table).WordsOf(column, text => IsNumber(text, chosen.Form), isFirst));
        return source;
    }

    // no way of reading gives masses as bags have them: the sender says what they are
    private (NumberForm Form, string Unit) Implausible(AskedColumn column, (NumberForm Form, string Unit)[] ways, string? unit,
        JsonObject source)
    {
        NumberForm form = ways[0].Form;
        // numbers of which a spreadsheet took the sign of thousands for a decimal one stand beside whole ones
        bool isTorn = unit == "mg" && Enumerable.Range(0, column.Cells.Count).All(i => column.TypedNumber(i) is not { } x
            || (x == Math.Floor(x) && x >= 20) || x < 20);
        string[] units = [.. UnitsOfMass.Where(u => u != unit)];
        List<Choice> choices = [];
        if (isTorn && column.Cells.Any(cell => cell.Value.Kind == SheetCellKind.Number))
            choices.Add(_ask.Option("thousands", "thousands-lost"));
        choices.AddRange(units.Where(u => AreMasses(column, form, u, false)).Select(u => _ask.Option(u, "unit", u)));
        choices.Add(_ask.Option("as-is", "unit", unit ?? "g"));
        string? answer = _ask.Choose(Interview.Values, "number:" + column.Name, choices, choices.Count > 1 ? choices[0].Value : null,
            column.Seen(),
            column.Name);
        if (answer == "thousands")
        {
            AddWords(source, [.. column.Distinct.Where(text => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture,
                out double x)
                && x < 20).Select(text => (text, text))]);
            return (form, "mg");
        }
        return (form, answer is "g" or "mg" ? answer : unit ?? "g");
    }

    private static void AddWords(JsonObject source, IReadOnlyList<(string Word, string Meaning)> words)
    {
        JsonObject map = source["words"] as JsonObject ?? [];
        foreach ((string word, string meaning) in words)
            map[word] = meaning;
        if (map.Count > 0)
            source["words"] = map;
    }

    private JsonObject Share(AskedColumn column, bool isLoss)
    {
        JsonObject source = MappingDraft.Column(column);
        bool isChange = isLoss && column.Sense.Has(Concept.Change)
            && column.Distinct.Any(text => text.StartsWith('-') || text.StartsWith('\u2212'));
        source["form"] = isChange ? "change" : isLoss ? "loss" : "remaining";
        IReadOnlyList<NumberForm> forms = NumberForm.Of(column);
        NumberForm form = forms[0];
        double[] numbers = [.. Enumerable.Range(0, column.Cells.Count).Select(i => form.Read(column, i)).OfType<double>()];
        bool hasSign = column.Distinct.Any(text => WrittenNumber.Of(text)?.Unit == "percent");
        string? unit = column.Sense.Unit is "g" or "mg" or "percent" ? column.Sense.Unit : hasSign ? "percent" : null;
        bool isUndecided = unit is null || (unit == "percent" && !hasSign && numbers.Length > 0 && numbers.All(x => x <= 1.1));
        if (isUndecided && numbers.Length > 0)
        {
            double most = numbers.Max(Math.Abs);
            string[] units = most > Most ? ["percent"] : most <= 1.1 ? isLoss ? ["fraction", "g"] : ["fraction", "percent"]
                : ["g", "percent"];
            unit = units.Length == 1 ? units[0] : _ask.Choose(Interview.Values, "share-unit:" + column.Name,
                [.. units.Select(u => _ask.Option(u, "unit-" + u))], null, column.Seen(), column.Name) ?? units[0];
        }
        form.WriteInto(source, column);
        source["unit"] = unit ?? "percent";
        AddWords(source, new StateQuestions(table).WordsOf(column, text => IsNumber(text, form), isFirst: false));
        if (unit is "percent" or "fraction" && IsGrossStated())
        {
            string? of = column.Sense.Has(Concept.OfLitter) ? "litter" : _ask.Choose(Interview.Meaning, "share-of",
                [_ask.Option("litter", "share-of-litter"), _ask.Option("all", "share-of-all")], null, column.Seen(), column.Name);
            if (of == "all")
                source["share_of"] = "all";
        }
        _ask.Tell(isChange ? "change" : isLoss ? "loss" : "remaining", column.Filled, column.Seen(), column.Name);
        return source;
    }

    private bool IsGrossStated() => table.Campaign is null || table.Campaign.Bags.GetValueOrDefault("mass_basis") == "gross"
        || table.Chosen.Keys.Any(key => key.Field == ColumnChoice.WithBag);

    private static bool IsNumber(string text, NumberForm form) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out _)
        || (WrittenNumber.Of(text) is { } written && WrittenNumber.Plain(written.Digits, form.DecimalSign, form.Thousands) is not null);

    private static double ScaleOf(string unit) => unit switch { "mg" => 0.001, "kg" => 1000, _ => 1 };

    private static double? GramsIn(AskedColumn column, int row, NumberForm form, string unit)
    {
        string? own = column.TypedNumber(row) is null ? WrittenNumber.Of(column.TextAt(row))?.Unit : null;
        return form.Read(column, row) * ScaleOf(own is "g" or "mg" or "kg" ? own : unit);
    }

    private static bool AreMasses(AskedColumn column, NumberForm form, string unit, bool isFirst)
    {
        double[] masses = [.. Enumerable.Range(0, column.Cells.Count).Select(i => GramsIn(column, i, form, unit)).OfType<double>()];
        return masses.Length > 0 && masses.All(m => m >= (isFirst ? LeastFirst : LeastLast) && m <= Most);
    }

    private static string Shown(AskedColumn column, NumberForm form, string unit)
    {
        int row = Enumerable.Range(0, column.Cells.Count).First(i => form.Read(column, i) is not null);
        return Invariant($"{column.TextAt(row)} = {GramsIn(column, row, form, unit):0.####} g");
    }

    // a bag that gains weight beside many that do not: a comma that slipped, or two numbers exchanged
    private void Slipped()
    {
        foreach (LitterRole? role in table.Roles)
        {
            if (table.Of(ColumnChoice.Initial, role) is not { } first || table.Of(ColumnChoice.Final, role) is not { } last
                || !_read.ContainsKey(last))
            {
                continue;
            }

            (int Row, double First, double Last)[] both = [.. Enumerable.Range(0, table.Rows.Count)
                .Select(row => (row, Grams(first, row), Grams(last, row))).Where(row => row is (_, { }, { }))
                    .Select(row => (row.row, row.Item2!.Value, row.Item3!.Value))];
            (int Row, double First, double Last)[] odd = [.. both.Where(row => row.Last > MostRemaining * row.First)];
            if (odd.Length == 0 || odd.Length > 3 || odd.Length * 5 > both.Length)
                continue;
            foreach ((int row, double before, double after) in odd)
            {
                // a mapping knows a cell by its text: where another bag has the same, that one is left for the gate to show
                if (last.Cells.Count(cell => AskedColumn.TextOf(cell) == last.TextAt(row)) > 1)
                    continue;
                string? shifted = new[] { 10.0, 100, 1000 }.Select(by => after / by).Where(mass => mass > 0.1 * before && mass <= before)
                    .Select(mass => mass.ToString("0.####", CultureInfo.InvariantCulture)).FirstOrDefault();
                string? answer = _ask.Enter(Interview.Values, Invariant($"odd-mass:{WideTable.RowName(table.Rows[row])}:{last.Name}"),
                    QuestionKind.Number,
                    text => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double mass)
                        && mass is >= 0 and <= 1000, shifted,
                    [first.SeenAt(row), last.SeenAt(row)], first.TextAt(row), last.TextAt(row), last.Name);
                if (answer is not null)
                    AddWords((JsonObject)table.Draft.BagsOf(role)["mass_final_g"]!, [(last.TextAt(row), answer)]);
            }
        }
    }

    private const double MostRemaining = 1.1;

    // a mass without its bag that is not the one with it less the empty bag: typed over a formula, or weighed anew
    private void NetOdd()
    {
        foreach ((string field, string target, Concept when) in new[]
        {
            (ColumnChoice.Initial, "mass_initial_g", Concept.First), (ColumnChoice.Final, "mass_final_g", Concept.Last),
        })
        {
            if (table.IsBurialRow || table.Of(field) is not { Sense.Basis: "litter" } net
                || Sole(column => column.Sense.Basis == "gross" && column.Sense.Has(when)) is not { } gross
                || (Sole(column => column.Sense.Has(Concept.Tare) && column.Sense.Has(when))
                    ?? table.Of(ColumnChoice.Tare)) is not { } tare)
            {
                continue;
            }
            HashSet<string> once = [.. net.Cells.Select(AskedColumn.TextOf).GroupBy(text => text).Where(own => own.Count() == 1)
                .Select(own => own.Key)];
            Func<int, double?> grossOf = In(gross), tareOf = In(tare);
            for (int row = 0; row < table.Rows.Count; row++)
            {
                if (Grams(net, row) is not { } written || grossOf(row) - tareOf(row) is not { } computed
                    || Math.Abs(computed - written) <= MostRounded)
                {
                    continue;
                }
                string made = computed.ToString("0.####", CultureInfo.InvariantCulture);
                bool isOnly = once.Contains(net.TextAt(row));
                string? answer = _ask.Choose(Interview.Values, $"net-odd:{WideTable.RowName(table.Rows[row])}:{net.Name}",
                    [.. isOnly ? [new Choice("computed", $"{made} g")] : Array.Empty<Choice>(),
                        new Choice("written", Invariant($"{written:0.####} g"))], null,
                    [gross.SeenAt(row), tare.SeenAt(row), net.SeenAt(row)], gross.Name, tare.Name, net.Name, made);
                if (answer == "computed")
                    AddWords((JsonObject)table.Draft.Bags[target]!, [(net.TextAt(row), made)]);
            }
        }

        AskedColumn? Sole(Func<AskedColumn, bool> which) => table.Columns.Where(which).ToArray() is [{ } only] ? only : null;

        static Func<int, double?> In(AskedColumn column)
        {
            NumberForm form = NumberForm.Of(column)[0];
            return row => GramsIn(column, row, form, column.Sense.Unit ?? "g");
        }
    }

    /// <summary>What rounding to a hundredth of a gram can make of a difference (g).</summary>
    private const double MostRounded = 0.011;

    private void Basis()
    {
        string? stated = table.Columns.Where(column => table.Chosen.Any(entry => entry.Value == column
            && entry.Key.Field is ColumnChoice.Initial or ColumnChoice.Final)).Select(column => column.Sense.Basis)
                .FirstOrDefault(basis => basis is not null);
        string? all = stated ?? table.Campaign?.Bags.GetValueOrDefault("mass_basis");
        JsonObject? source = null;
        if (table.Of(ColumnChoice.WithBag) is { } column)
        {
            (string Text, bool? IsYes)[] words = [.. column.Distinct.Select(text => (text, StateWords.YesOrNo(text)))];
            source = MappingDraft.Column(column);
            source["words"] = MappingDraft.Words(words.Where(word => word.IsYes is not null)
                .Select(word => (word.Text, word.IsYes!.Value ? "gross" : "litter")));
            foreach ((string text, _) in words.Where(word => word.IsYes is null))
            {
                string? answer = _ask.Choose(Interview.Meaning, "basis-word:" + text, BasisChoices(), null,
                    column.Seen(i => column.TextAt(i) == text), text);
                source["words"]![text] = answer ?? "gross";
            }
            _ask.Tell("basis-column", column.Filled, column.Seen(), column.Name);
        }
        List<JsonObject> said = SaidOfRows();
        if (source is null && all is null)
            all = _ask.Choose(Interview.Meaning, "basis", BasisChoices(), null, InitialSeen()) ?? "gross";
        source ??= Odd(all!, said.Count > 0);
        source ??= MappingDraft.Value(all!);
        for (int i = said.Count - 1; i >= 0; i--)
        {
            said[i]["or"] = new JsonArray(source);
            source = said[i];
        }
        table.Draft.Bags["mass_basis"] = source;
    }

    private Choice[] BasisChoices() => [_ask.Option("gross", "gross"), _ask.Option("litter", "litter")];

    private IReadOnlyList<SeenCell> InitialSeen() =>
        [.. table.Roles.Select(role => table.Of(ColumnChoice.Initial, role)).OfType<AskedColumn>().SelectMany(column => column.Seen())];

    // notes on cells and remarks that say of some rows that the bag was weighed with them, or not
    private List<JsonObject> SaidOfRows()
    {
        List<JsonObject> said = [];
        foreach (AskedColumn notes in table.Remarks)
        {
            (string Text, string Basis)[] remarks = [.. notes.Distinct.Select(text => (text, BasisOf(text)))
                .Where(entry => entry.Item2 is not null)
                .Select(entry => (entry.text, entry.Item2!))];
            if (remarks.Length > 0)
            {
                JsonObject source = MappingDraft.Column(notes);
                source["form"] = "listed";
                source["words"] = MappingDraft.Words(remarks);
                said.Add(source);
                _ask.Tell("basis-comment", notes.Cells.Count(cell => remarks.Any(e => e.Text == AskedColumn.TextOf(cell))),
                    notes.Seen(i => remarks.Any(e => e.Text == notes.TextAt(i))), notes.Name);
            }
        }
        // a remark in the cell of a mass
        foreach (LitterRole? role in table.IsBurialRow ? [] : table.Roles)
        {
            foreach (AskedColumn column in new[] { table.Of(ColumnChoice.Initial, role), table.Of(ColumnChoice.Final, role) }
                .OfType<AskedColumn>())
            {
                (string Text, string Basis)[] remarks = [.. column.Distinct.Select(text =>
                    (text, WrittenNumber.Of(text) is { Beside.Length: > 0 } written ? BasisOf(written.Beside) : null))
                    .Where(entry => entry.Item2 is not null).Select(entry => (entry.text, entry.Item2!))];
                if (remarks.Length == 0)
                    continue;
                JsonObject source = MappingDraft.Column(column);
                source["form"] = "listed";
                source["words"] = MappingDraft.Words(remarks);
                said.Add(source);
                _ask.Tell("basis-comment", remarks.Length, column.Seen(i => remarks.Any(e => e.Text == column.TextAt(i))), column.Name);
            }
        }
        return said;
    }

    private static string? BasisOf(string text)
    {
        string[] words = Identifier.Folded(text).Split([' ', ',', '.', '(', ')', ';', ':', '!', '?', '\n', '/'],
            StringSplitOptions.RemoveEmptyEntries);
        bool isBag = words.Any(word =>
            word is "bag" or "net" or "beutel" or "netz" or "bolsa" or "bolsita" or "malla" or "sachet" or "filet" or "mesh");
        return !isBag ? null
            : words.Any(word => word is "without" or "ohne" or "sin" or "sans" or "off" or "removed" or "abgenommen"
                or "entfernt" or "quitada"
                or "retire" or "enleve") ? "litter"
            : words.Any(word => word is "with" or "mit" or "con" or "avec" or "incl" or "inkl" or "including" or "samt") ? "gross" : null;
    }

    // first masses that lie where those of the other way of weighing should: asked, never taken
    private JsonObject? Odd(string basis, bool isSaid)
    {
        if (isSaid || table.Campaign is null)
            return null;
        List<(AskedColumn Column, int Row)> odd = [];
        int count = 0;
        foreach (LitterRole? role in table.Roles)
        {
            if (table.Of(ColumnChoice.Initial, role) is not { } column)
                continue;
            for (int i = 0; i < column.Cells.Count; i++)
            {
                LitterRole? own = role ?? (i < table.RoleOfRow.Length ? table.RoleOfRow[i] : null);
                if (own is null || Grams(column, i) is not { } mass || LotQuestions.LotOfRow(table, i, own.Value) is not { } lot
                    || LotQuestions.Number(lot, "litter_mass_nominal_g") is not { } nominal
                        || LotQuestions.Number(lot, "tare_g") is not { } tare)
                {
                    continue;
                }
                count++;
                double toGross = Math.Abs(mass - nominal - tare), toLitter = Math.Abs(mass - nominal);
                if ((basis == "gross" ? toLitter < toGross / 2 : toGross < toLitter / 2) && Math.Min(toLitter, toGross) < tare / 2)
                    odd.Add((column, i));
            }
        }
        if (odd.Count == 0)
            return null;
        string other = basis == "gross" ? "litter" : "gross";
        SeenCell[] seen = [.. odd.Take(8).Select(entry => entry.Column.SeenAt(entry.Row))];
        string? answer = _ask.Choose(Interview.Meaning, "basis-odd",
            [_ask.Option("as-stated", "basis-" + basis), _ask.Option("odd", odd.Count == count ? "basis-" + other : "basis-odd-" + other)],
            null, seen, odd.Count, count);
        if (answer != "odd")
            return null;
        if (odd.Count == count)
            return MappingDraft.Value(other);
        // a mapping knows a cell by its text: two bags of one text and two kinds can't be told apart by it
        (AskedColumn Column, int Row)[] alike = [.. odd.Where(entry => Enumerable.Range(0, entry.Column.Cells.Count).Any(row =>
            entry.Column.TextAt(row) == entry.Column.TextAt(entry.Row) && !odd.Contains((entry.Column, row))))];
        if (alike.Length > 0)
        {
            _ = _ask.Choose(Interview.Meaning, "basis-alike", [_ask.Option("as-stated", "basis-" + basis)], null,
                [.. alike.Take(8).Select(entry => entry.Column.SeenAt(entry.Row))], alike.Length);
            return null;
        }
        if (table.IsBurialRow)
        {
            foreach (LitterRole role in new[] { LitterRole.Fast, LitterRole.Slow })
            {
                AskedColumn[] own = [.. odd.Select(entry => entry.Column).Distinct().Where(c => c == table.Of(ColumnChoice.Initial, role))];
                if (own is [AskedColumn column])
                {
                    table.Draft.BagsOf(role)["mass_basis"] = Listed(column, odd.Where(e => e.Column == column).Select(e => e.Row), other,
                        basis);
                }
            }
            return null;
        }
        return Listed(odd[0].Column, odd.Select(entry => entry.Row), other, basis);
    }

    private static JsonObject Listed(AskedColumn column, IEnumerable<int> rows, string meaning, string otherwise)
    {
        JsonObject source = MappingDraft.Column(column);
        source["form"] = "listed";
        source["words"] = MappingDraft.Words(rows.Select(column.TextAt).Distinct().Select(text => (text, meaning)));
        source["or"] = new JsonArray(MappingDraft.Value(otherwise));
        return source;
    }

    private void OneForMany()
    {
        foreach (LitterRole? role in table.Roles)
        {
            if (table.Of(ColumnChoice.Initial, role) is not { } column)
                continue;
            bool isSame = Enumerable.Range(0, column.Cells.Count).Where(i => Grams(column, i) is not null)
                .GroupBy(i => role ?? (i < table.RoleOfRow.Length ? table.RoleOfRow[i] : null))
                .All(own => own.Count() >= FewestSame && own.Select(i => Grams(column, i)).Distinct().Count() == 1);
            if (!isSame || !Enumerable.Range(0, column.Cells.Count).Any(i => Grams(column, i) is not null))
                continue;
            string? answer = _ask.Choose(Interview.Meaning, "one-mass",
                [_ask.Option("mean", "one-mass-mean"), _ask.Option("nominal", "one-mass-nominal"),
                _ask.Option("weighed", "one-mass-weighed")], column.Sense.Has(Concept.Mean) ? "mean" : null, column.Seen(), column.Name);
            if (answer is "mean" or "nominal")
                table.Draft.Bags["balance_resolution_g"] = MappingDraft.Value(StepFor(column));
            return;
        }
    }

    // A mass that was not weighed is off by what bags differ: a step whose rounding has that standard deviation, r = u √12 (JCGM 100:2008,
    // 4.3.7), makes k and S as uncertain as they are. It is taken for both masses, which is on the safe side.
    private string StepFor(AskedColumn column)
    {
        double? tolerance = Enumerable.Range(0, column.Cells.Count)
            .Select(i => table.RoleOfRow.ElementAtOrDefault(i) is { } role && LotQuestions.LotOfRow(table, i, role) is { } lot
                ? LotQuestions.Number(lot, "litter_mass_tolerance_g") is { } half ? half / Math.Sqrt(3) : (double?)null : null)
            .FirstOrDefault(u => u is not null);
        double mass = Enumerable.Range(0, column.Cells.Count).Select(i => Grams(column, i)).OfType<double>().First();
        return ((tolerance ?? ScatterOfBags * mass) * Math.Sqrt(12)).ToString("0.###", CultureInfo.InvariantCulture);
    }

    /// <summary>Standard deviation of what bags filled by hand hold, as a share (common practice, no source).</summary>
    private const double ScatterOfBags = 0.02;

    private const int FewestSame = 4;

    private void NothingLast()
    {
        bool isAny = table.Roles.Any(role => new[] { ColumnChoice.Final, ColumnChoice.Loss, ColumnChoice.Remaining }
            .Any(field => table.Of(field, role) is { Filled: > 0 }));
        if (isAny)
            return;
        string? answer = _ask.Choose(Interview.Columns, "no-final", [_ask.Option("still-buried", "still-buried"),
            _ask.Option("forgotten", "forgotten")],
            null, []);
        if (answer == "forgotten")
            table.IsHopeless = "no-final";
    }
}
