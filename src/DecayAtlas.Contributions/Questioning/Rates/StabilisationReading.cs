using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Rates;

/// <summary>Reads S and its error as shares or in percent, each by its own name or its own values; what may be either is asked.</summary>
internal sealed class StabilisationReading(AskedTable table)
{
    // S is 1 at most
    private const double Most = 1, MostOfPercent = 2;

    // what an error of S is (common practice, no source)
    private const double LeastError = 0.002, MostError = 0.5;

    private readonly Interview _ask = table.Ask;
    private string _ofMean = "fraction";

    public JsonObject Source(AskedColumn column)
    {
        double[] numbers = Numbers(column);
        double most = numbers.Select(Math.Abs).DefaultIfEmpty().Max();
        bool isSaid = IsSaid(column);
        _ofMean = isSaid && most > MostOfPercent ? "percent"
            : isSaid || most is > Most and <= MostOfPercent ? Asked(column, isSaid ? "percent" : null)
            : most > Most ? "percent" : "fraction";
        return In(_ofMean, column);
    }

    public JsonObject ErrorSource(AskedColumn column)
    {
        double[] numbers = [.. Numbers(column).Order()];
        double typical = numbers.Length == 0 ? 0 : numbers[numbers.Length / 2];
        bool isPercent = typical is >= LeastError * 100 and <= MostError * 100, isShare = typical is >= LeastError and <= MostError;
        string likely = IsSaid(column) ? "percent" : _ofMean;
        return In(typical == 0 || (likely == "percent" ? isPercent && (IsSaid(column) || !isShare) : isShare) ? likely
            : Asked(column, isPercent == isShare ? null : isPercent ? "percent" : "fraction"), column);
    }

    private static bool IsSaid(AskedColumn column) => column.Sense.Unit == "percent"
        || column.Distinct.Any(text => WrittenNumber.Of(text)?.Unit == "percent");

    private static double[] Numbers(AskedColumn column)
    {
        NumberForm form = NumberForm.Of(column)[0];
        return [.. Enumerable.Range(0, column.Cells.Count).Select(row => form.Read(column, row)).OfType<double>()];
    }

    private string Asked(AskedColumn column, string? suggested) => _ask.Choose(Interview.Values, "share-unit:" + column.Name,
        [_ask.Option("percent", "unit-percent"), _ask.Option("fraction", "unit-fraction")], suggested, column.Seen(), column.Name)
        ?? suggested ?? "fraction";

    private JsonObject In(string unit, AskedColumn column)
    {
        JsonObject source = MappingDraft.Column(column);
        NumberForm.Of(column)[0].WriteInto(source, column);
        if (unit == "percent")
        {
            source["unit"] = unit;
            _ask.Tell("in-percent", column.Filled, column.Seen(), column.Name);
        }
        return source;
    }
}
