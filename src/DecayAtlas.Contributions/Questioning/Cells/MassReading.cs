using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Cells;

/// <summary>How the numbers of a column of masses are written, and in which unit: by the signs, by what litter in a bag can weigh, else
/// asked.</summary>
internal sealed class MassReading(AskedTable table) : IWeighings
{
    // what litter in a bag can weigh (g), first and last (common practice, no source)
    private const double LeastFirst = 0.1, LeastLast = 0.01;

    public const double Most = MassColumns.MostGrams;

    private static readonly string[] UnitsOfMass = ["g", "mg"];

    private readonly Interview _ask = table.Ask;
    private readonly Dictionary<AskedColumn, (NumberForm Form, double Scale)> _read = [];

    private readonly Dictionary<(AskedColumn, int Row), double?> _meant = [];

    public bool IsRead(AskedColumn column) => _read.ContainsKey(column);

    /// <summary>The mass in a row (g) as it will be read; null where there is none.</summary>
    public double? Grams(AskedColumn column, int row)
    {
        if (_meant.TryGetValue((column, row), out double? meant))
            return meant;
        (NumberForm form, double scale) = _read[column];
        string? own = column.TypedNumber(row) is null ? WrittenNumber.Of(column.TextAt(row))?.Unit : null;
        return form.Read(column, row) * (Units.InGrams(own) ?? scale);
    }

    public JsonObject Source(AskedColumn column, bool isFirst)
    {
        JsonObject source = MappingDraft.Column(column);
        string? unit = Units.InGrams(column.Sense.Unit) is null ? null : column.Sense.Unit;
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
        else if (areAnyNumbers && chosen.Form.Thousands != '\0' && column.Cells.Any(cell => cell.Value.Kind == SheetCellKind.Text))
        {
            _ask.Tell("thousands", column.Filled, column.Seen(), column.Name, Shown(column, chosen.Form, chosen.Unit));
        }
        if (unit is null && areAnyNumbers && chosen.Unit != "g")
            _ask.Tell("unit-by-values", column.Filled, column.Seen(), column.Name, chosen.Unit);
        _ask.Tell("unit-in-cells", Enumerable.Range(0, column.Cells.Count).Count(row => column.TypedNumber(row) is null
            && Units.InGrams(WrittenNumber.Of(column.TextAt(row))?.Unit) is not null), column.Seen(), column.Name);
        chosen.Form.WriteInto(source, column);
        if (chosen.Unit != "g")
            source["unit"] = chosen.Unit;
        _read[column] = (chosen.Form, ScaleOf(chosen.Unit));
        if (chosen.Form.DecimalSign == '\0')
            _ask.Tell("both-signs", column.Filled, column.Seen(), column.Name);
        BehindStates(column, source, chosen.Form, ScaleOf(chosen.Unit));
        InSigns(column, source, chosen.Form, ScaleOf(chosen.Unit), isFirst);
        MassSource.AddWords(source, new StateQuestions(table).WordsOf(column,
            text => CanBeNumber(text, chosen.Form) || SeveralNumbers.Are(text) || StateQuestions.StateBefore(text) is not null,
            isFirst));
        foreach ((int row, double? grams) in new SeveralNumbers(table).Make(column, source, chosen.Form, ScaleOf(chosen.Unit), "g"))
            _meant[(column, row)] = grams;
        return source;
    }

    // torn: 1,50 is a mass, and what became of its bag
    private void BehindStates(AskedColumn column, JsonObject source, NumberForm form, double scale)
    {
        foreach (string text in column.Distinct.Where(text => StateQuestions.StateBefore(text) is not null))
        {
            string digits = WrittenNumber.BehindWords(text)!;
            double grams = double.Parse(WrittenNumber.Plain(digits, form.DecimalSign, form.Thousands) ?? WrittenNumber.Alone(digits)!,
                NumberStyles.Float, CultureInfo.InvariantCulture) * scale;
            MassSource.AddWords(source, [(text, MassSource.Text(grams))]);
            foreach (int row in Enumerable.Range(0, column.Cells.Count).Where(row => column.TextAt(row) == text))
                _meant[(column, row)] = grams;
        }
    }

    // (3,87) may be the mass, or one that was withdrawn
    private void InSigns(AskedColumn column, JsonObject source, NumberForm form, double scale, bool isFirst)
    {
        foreach (string text in column.Distinct.Where(text => WrittenNumber.InSigns(text) is not null))
        {
            string digits = WrittenNumber.InSigns(text)!;
            double grams = double.Parse(WrittenNumber.Plain(digits, form.DecimalSign, form.Thousands) ?? WrittenNumber.Alone(digits)!,
                NumberStyles.Float, CultureInfo.InvariantCulture) * scale;
            int[] rows = [.. Enumerable.Range(0, column.Cells.Count).Where(row => column.TextAt(row) == text
                && column.Cells[row].Value.Kind == SheetCellKind.Text)];
            if (rows.Length == 0)
                continue;
            Choice[] lost = isFirst ? [] : [_ask.Option("lost", "lost"), _ask.Option("torn", "torn")];
            string? answer = _ask.Choose(Interview.Values, "word:" + text,
                [_ask.Option("number", "word-number", _ask.Words.Number(grams, "0.####")), _ask.Option("empty", "not-weighed"), .. lost],
                null, column.Seen(rows.Contains), text, column.Name);
            if (answer == "empty")
                MassSource.AddWords(source, [(text, "")]);
            if (answer != "number")
                continue;
            MassSource.AddWords(source, [(text, MassSource.Text(grams))]);
            foreach (int row in rows)
                _meant[(column, row)] = grams;
        }
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
        int[] milligrams = unit == "mg" ? [] : Milligrams(column, form);
        if (milligrams.Length > 0)
        {
            choices.Add(_ask.Option("mixed", "mixed-units",
                column.Spoken(milligrams.MinBy(row => GramsIn(column, row, form, "g")), _ask.Words)));
        }
        choices.AddRange(units.Where(u => AreMasses(column, form, u, false)).Select(u => _ask.Option(u, "unit", u)));
        choices.Add(_ask.Option("as-is", "unit", unit ?? "g"));
        string? answer = _ask.Choose(Interview.Values, "number:" + column.Name, choices, choices.Count > 1 ? choices[0].Value : null,
            column.Seen(),
            column.Name);
        if (answer == "thousands")
        {
            MassSource.AddWords(source,
            [
                .. column.Distinct.Where(text => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double x)
                    && x < 20).Select(text => (text, text)),
            ]);
            return (form, "mg");
        }
        if (answer == "mixed")
        {
            foreach (int row in milligrams)
            {
                double grams = GramsIn(column, row, form, "mg")!.Value;
                _meant[(column, row)] = grams;
                MappingDraft.SetRow(source, table.RowNames[row], column.TextAt(row), MassSource.Text(grams));
            }
        }
        return (form, answer is "g" or "mg" ? answer : unit ?? "g");
    }

    // rows that can be masses in milligrams alone, where all others can be such in grams alone; none where it is not so
    private static int[] Milligrams(AskedColumn column, NumberForm form)
    {
        int[] all = [.. Enumerable.Range(0, column.Cells.Count).Where(row => GramsIn(column, row, form, "g") is not null)];
        int[] rows = [.. all.Where(row => GramsIn(column, row, form, "g") > Most)];
        return rows.Length > 0 && rows.Length < all.Length
            && rows.All(row => GramsIn(column, row, form, "mg") is >= LeastFirst and <= Most)
            && all.Except(rows).All(row => GramsIn(column, row, form, "g") >= LeastLast) ? rows : [];
    }

    public static bool CanBeNumber(string text, NumberForm form) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out _)
        || (WrittenNumber.Of(text) is { } written
            && WrittenNumber.Plain(written.Digits, form.DecimalSign, form.Thousands) is not null);

    private static double ScaleOf(string unit) => Units.InGrams(unit) ?? 1;

    public static double? GramsIn(AskedColumn column, int row, NumberForm form, string unit)
    {
        string? own = column.TypedNumber(row) is null ? WrittenNumber.Of(column.TextAt(row))?.Unit : null;
        return form.Read(column, row) * (Units.InGrams(own) ?? ScaleOf(unit));
    }

    private static bool AreMasses(AskedColumn column, NumberForm form, string unit, bool isFirst)
    {
        double[] masses = [.. Enumerable.Range(0, column.Cells.Count).Select(i => GramsIn(column, i, form, unit)).OfType<double>()];
        return masses.Length > 0 && masses.All(m => m >= (isFirst ? LeastFirst : LeastLast) && m <= Most);
    }

    private string Shown(AskedColumn column, NumberForm form, string unit)
    {
        int row = Enumerable.Range(0, column.Cells.Count).First(i => form.Read(column, i) is not null);
        return $"{column.Spoken(row, _ask.Words)} = {_ask.Words.Number(GramsIn(column, row, form, unit), "0.####")} g";
    }
}
