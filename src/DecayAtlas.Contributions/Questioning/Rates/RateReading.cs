using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Rates;

/// <summary>Reads k and its error per day: by the unit that their names or a column beside them say, and where that says nothing, or may
/// be meant in two ways, by what can be a rate, else asked.</summary>
internal sealed class RateReading(AskedTable table, AskedColumn rate)
{
    // what is usual times and by this is still a rate per day
    private const double Wide = 10;

    // of a mean, what its error is (common practice, no source)
    private const double LeastError = 0.002, MostError = 2;

    private readonly Interview _ask = table.Ask;
    private double?[] _scales = [];

    public JsonObject Source()
    {
        AskedColumn? beside = table.Of(ColumnChoice.RateUnit) is { Distinct.Count: > 0 } unit ? unit : null;
        _scales = beside is null ? Same(Scale())
            : [.. Enumerable.Range(0, table.Rows.Count).Select(row => ScaleOf(beside.TextAt(row)))];
        return Scaled(rate, _scales);
    }

    /// <summary>An error stands in the unit of its own name, else in that of its k.</summary>
    public JsonObject ErrorSource(AskedColumn error)
    {
        RateUnit own = RateUnits.Of(error.Name, error.Header.Unit);
        if (own.IsSaid)
            return Scaled(error, Same(Factor(own, -Math.Abs(own.Exponent))));
        double?[] k = Numbers(rate), e = Numbers(error);
        double[] shares = [.. k.Zip(e).Where(two => two is ({ } of, { }) && of != 0).Select(two => Math.Abs(two.Second!.Value
            / two.First!.Value)).Order()];
        double typical = shares.Length == 0 ? LeastError : shares[shares.Length / 2];
        // as a share of k it is none, unless it is counted per day already
        if (_scales.All(scale => scale is null or 1) || typical is >= LeastError and <= MostError)
            return Scaled(error, _scales);
        int shown = Array.FindIndex(e, number => number is not null);
        string? answer = _ask.Choose(Interview.Values, "error-unit:" + error.Name,
        [
            _ask.Option("day", "rate-day", error.Spoken(shown, _ask.Words), Shown(e[shown]!.Value)),
            _ask.Option("same", "rate-same", error.Spoken(shown, _ask.Words), Shown((e[shown] * _scales[shown])!.Value), rate.Name),
        ], null, error.Seen(), error.Name);
        return answer == "same" ? Scaled(error, _scales) : Scaled(error, Same(1));
    }

    private double?[] Same(double scale) => [.. Enumerable.Repeat((double?)scale, table.Rows.Count)];

    // a column beside says year, or per year
    private static double? ScaleOf(string text)
    {
        RateUnit unit = RateUnits.Of(text);
        return unit.IsSaid ? Factor(unit, -Math.Abs(unit.Exponent)) : TimeUnits.DaysOf(text) is { } days ? 1 / days : 1;
    }

    private static double Factor(RateUnit unit, int exponent) => Math.Pow(10, exponent) * unit.Share / (unit.Days ?? 1);

    private double Scale()
    {
        RateUnit unit = RateUnits.Of(rate.Name, rate.Header.Unit);
        double[] k = [.. Numbers(rate).OfType<double>().Where(number => number != 0)];
        if (unit.Exponent == 0 && (unit.IsSaid || k.Length == 0 || AreUsual(k, 1)))
            return Factor(unit, 0);
        // 10³ over numbers says that they were multiplied by it; 10⁻³ may say either
        (string Key, double Scale)[] ways = unit.Exponent == 0
            ? [("rate-day", 1), ("rate-week", 1 / 7d), ("rate-month", 12 / 365.25), ("rate-year", 1 / 365.25), ("rate-thousandth", 0.001)]
            : [("rate-scaled", Factor(unit, -Math.Abs(unit.Exponent))), ("rate-scaled", Factor(unit, Math.Abs(unit.Exponent)))];
        double[] usual = [.. ways.Select(way => way.Scale).Where(scale => AreUsual(k, scale))];
        if (unit.Exponent != 0 && usual.Length == 1)
            return usual[0];
        int shown = Array.FindIndex(Numbers(rate), number => number is not null and not 0);
        double first = Numbers(rate)[shown]!.Value;
        string? answer = _ask.Choose(Interview.Values, "rate-unit", [.. ways.Select(way => _ask.Option(Plain(way.Scale), way.Key,
            rate.Spoken(shown, _ask.Words), Shown(first * way.Scale)))], null, rate.Seen(), rate.Name);
        return answer is null ? ways[0].Scale : ways.First(way => Plain(way.Scale) == answer).Scale;
    }

    private static bool AreUsual(double[] k, double scale) => Array.TrueForAll(k, one => Math.Abs(one) * scale is var daily
        && daily >= UsualRange.RatePerDay.Least / Wide && daily <= UsualRange.RatePerDay.Most * Wide);

    private static string Plain(double scale) => scale.ToString("G6", CultureInfo.InvariantCulture);

    private string Shown(double number) => _ask.Words.Number(number, "0.######");

    private double?[] Numbers(AskedColumn column)
    {
        NumberForm form = NumberForm.Of(column)[0];
        return [.. Enumerable.Range(0, table.Rows.Count).Select(row => form.Read(column, row))];
    }

    private JsonObject Scaled(AskedColumn column, double?[] scales)
    {
        JsonObject source = MappingDraft.Column(column);
        NumberForm.Of(column)[0].WriteInto(source, column);
        double?[] numbers = Numbers(column);
        (int Row, double Read)[] read = [.. Enumerable.Range(0, numbers.Length)
            .Where(row => numbers[row] is not null && scales[row] is not null and not 1)
            .Select(row => (row, (numbers[row] * scales[row])!.Value))];
        if (read.Length == 0)
            return source;
        bool isByText = read.GroupBy(one => column.TextAt(one.Row)).All(same => same.Select(one => one.Read).Distinct().Count() == 1)
            && read.Length == numbers.Count(number => number is not null);
        if (isByText)
        {
            source["words"] = MappingDraft.Words(read.Select(one => (column.TextAt(one.Row), Plain(one.Read))).Distinct());
        }
        else
        {
            foreach ((int row, double value) in read)
                MappingDraft.SetRow(source, table.RowNames[row], column.TextAt(row), Plain(value));
        }
        foreach (IGrouping<double, (int Row, double Read)> same in read.GroupBy(one => scales[one.Row]!.Value))
        {
            (int row, double value) = same.First();
            _ask.Tell("rate-scaled", same.Count(), column.Seen(), column.Name, column.Spoken(row, _ask.Words),
                Shown(value));
        }
        return source;
    }
}
