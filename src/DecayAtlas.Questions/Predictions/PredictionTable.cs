using System.Globalization;
using nietras.SeparatedValues;

namespace DecayAtlas.Questions.Predictions;

/// <summary>What a table of predictions came to.</summary>
/// <param name="Applicable">Of the predicted rows.</param>
public sealed record PredictionTableResult(long Rows, long Predicted, long Applicable);

/// <summary>
/// Predicts for the rows of a CSV table: places (decimal_latitude, decimal_longitude) whose covariates are sampled, or rows that bring
/// the covariates themselves. Every column of the input is handed through, text that a spreadsheet would compute made harmless, and the
/// prediction follows it. Streams: a few thousand rows are held at a time.
/// </summary>
public sealed class PredictionTable
{
    private const int RowsAtATime = 8192;

    private const string Latitude = "decimal_latitude", Longitude = "decimal_longitude";

    private static readonly string[] Limits = ["dissimilarity", "applicable", "status"];

    private static readonly string[] AddedOfRate =
    [
        "k_per_day", "k_lower_per_day", "k_upper_per_day", "k_measured_lower_per_day", "k_measured_upper_per_day", .. Limits,
        "half_life_days", "half_life_lower_days", "half_life_upper_days",
    ];

    private static readonly string[] AddedOfStabilisation =
        ["s", "s_lower", "s_upper", "s_measured_lower", "s_measured_upper", .. Limits];

    private readonly RateModel _model;
    private readonly string[] _added;
    private readonly PointCovariates? _points;
    private readonly double[] _asIf;
    private readonly PlaceReading _reading;
    private readonly PredictedRows _predictions;

    private PredictionTable(RateModel model, PointCovariates? points, BurialConditions conditions, ClassChoices choices)
    {
        (_model, _points) = (model, points);
        _added = model.Card.Target == PredictionTarget.DecayRate ? AddedOfRate : AddedOfStabilisation;
        _asIf = [.. model.Card.Covariates.Select(c => c.Classes is not null && choices.PlaceOf(c) is { } place ? place : double.NaN)];
        _reading = new PlaceReading(Latitude, Longitude, conditions);
        _predictions = new PredictedRows(model, RowsAtATime);
    }

    /// <param name="catalogue">Where its covariates are sampled.</param>
    /// <param name="conditions">Of rows that state none.</param>
    /// <param name="choices">Classes of rows that state none.</param>
    /// <exception cref="PredictionException">The catalogue does not give what the model learnt from.</exception>
    public static PredictionTable OfPlaces(RateModel model, IReadOnlyList<CatalogueEntry> catalogue, BurialConditions conditions,
        ClassChoices choices) => new(model, PointCovariates.OfStating(model, catalogue, choices), conditions, choices);

    /// <param name="choices">Classes of rows that state none.</param>
    /// <exception cref="PredictionException">A choice is of a class that the model never saw.</exception>
    public static PredictionTable OfCovariates(RateModel model, ClassChoices choices) =>
        new(model, null, BurialConditions.None, choices);

    /// <summary>Reads a table and writes it with its predictions.</summary>
    /// <exception cref="ConfigurationException">The table is absent, lacks a column or is no table.</exception>
    public PredictionTableResult Run(string path, TextWriter output)
    {
        if (!File.Exists(path))
            throw new ConfigurationException($"There is no table {path}; correct the path.");
        try
        {
            using SepReader reader = Sep.Reader(options => options with { Unescape = true, DisableColCountCheck = true }).FromFile(path);
            string[] columns = [.. reader.Header.ColNames];
            Check(path, columns);
            using SepWriter writer = reader.Spec.Writer(options => options with { Escape = true }).To(output);
            return Run(path, reader, columns, writer);
        }
        catch (Exception e) when (e is InvalidDataException or NotSupportedException or ArgumentException)
        {
            throw new ConfigurationException($"{path} cannot be read as a CSV table ({e.Message.Split('\n')[0].TrimEnd('.')}); look "
                + "for a quotation mark that is not closed, or a column that is there twice.", e);
        }
    }

    private void Check(string path, string[] columns)
    {
        string[] needed = _points is null ? [.. _model.Card.Covariates.Where((_, c) => double.IsNaN(_asIf[c])).Select(c => c.Name)]
            : [Latitude, Longitude];
        if (_points?.ToBeStated.FirstOrDefault(c => !columns.Contains(c.Name)) is { } stated && needed.All(columns.Contains))
        {
            throw new ConfigurationException($"{path}:1: there is no column {stated.Name}, which the model takes as sites state it; "
                + $"add one, or state a class for all places with --as-if {stated.Name}={stated.Classes!.Names[0]}, one of "
                + $"{stated.Classes.Choice}.");
        }

        string[] lacking = [.. needed.Where(n => !columns.Contains(n))];
        if (lacking.Length > 0)
        {
            throw new ConfigurationException($"{path}:1: there is no column {string.Join(", ", lacking)}; expected "
                + $"{string.Join(", ", needed)}, and found {(columns.Length == 0 ? "no header" : string.Join(", ", columns.Take(20)))}.");
        }

        if (columns.FirstOrDefault(_added.Contains) is { } taken)
        {
            throw new ConfigurationException($"{path}:1: there is a column {taken} already, which the prediction is to be written to; "
                + "rename it.");
        }
    }

    private PredictionTableResult Run(string path, SepReader reader, string[] columns, SepWriter writer)
    {
        long rows = 0, predicted = 0, applicable = 0;
        List<(string[] Cells, string? Fault)> chunk = new();
        List<PredictedPlace> places = new();
        foreach (SepReader.Row row in reader)
        {
            if (row.ColCount == 1 && row[0].Span.IsEmpty)
                continue;
            if (row.ColCount != columns.Length)
            {
                throw new ConfigurationException($"{path}:{row.LineNumberFrom}: {row.ColCount} cells, expected {columns.Length} as in "
                    + "the header.");
            }

            string[] cells = new string[columns.Length];
            for (int i = 0; i < cells.Length; i++)
                cells[i] = row[i].ToString();
            chunk.Add((cells, Take(columns, cells, chunk.Count, places)));
            rows++;
            if (chunk.Count == RowsAtATime)
                Flush();
        }

        Flush();
        return new PredictionTableResult(rows, predicted, applicable);

        void Flush()
        {
            Predict(chunk, places, columns);
            for (int i = 0; i < chunk.Count; i++)
            {
                WriteRow(writer, columns, chunk[i].Cells, chunk[i].Fault, i);
                predicted += _predictions.IsPredicted(i) ? 1 : 0;
                applicable += _predictions.Block.Applicable[i] ? 1 : 0;
            }

            chunk.Clear();
            places.Clear();
        }
    }

    /// <summary>Takes what a row says in, and tells what is wrong with it; null where nothing is.</summary>
    private string? Take(string[] columns, string[] cells, int at, List<PredictedPlace> places)
    {
        string? fault = null;
        if (_points is null)
        {
            for (int c = 0; c < _predictions.Values.Length; c++)
            {
                CardCovariate covariate = _model.Card.Covariates[c];
                _predictions.Values[c][at] = covariate.Classes is not { } classes
                    ? PlaceReading.Number(covariate.Name, TextOf, ref fault) ?? double.NaN
                    : TextOf(covariate.Name)?.Trim() is { Length: > 0 } name ? classes.PlaceOf(name) : _asIf[c];
            }

            return fault;
        }

        // a row with a fault still has its place in the block
        (PredictedPlace place, fault) = _reading.Read(TextOf);
        places.Add(place);
        return fault;

        string? TextOf(string column) => Array.IndexOf(columns, column) is var c and >= 0 ? cells[c] : null;
    }

    private void Predict(List<(string[] Cells, string? Fault)> chunk, List<PredictedPlace> places, string[] columns)
    {
        int ecosystem = Array.IndexOf(columns, PointPredictor.Ecosystem);
        _points?.Sample(places, _predictions.Values,
            (covariate, row) => Array.IndexOf(columns, covariate) is var at and >= 0 ? chunk[row].Cells[at] : null);
        _predictions.Predict(chunk.Count, i => chunk[i].Fault is null, _points is null ? null : i => places[i].Point,
            i => ecosystem < 0 ? null : chunk[i].Cells[ecosystem]);
    }

    private void WriteRow(SepWriter writer, string[] columns, string[] cells, string? fault, int at)
    {
        using SepWriter.Row row = writer.NewRow();
        for (int c = 0; c < columns.Length; c++)
            row[SpreadsheetSafe.Text(columns[c])].Set(Harmless(cells[c]));
        (PredictionBlock block, bool known) = (_predictions.Block, _predictions.IsPredicted(at));
        row[_added[0]].Set(Text(block.Predictions[at]));
        row[_added[1]].Set(Text(block.Lower[at]));
        row[_added[2]].Set(Text(block.Upper[at]));
        row[_added[3]].Set(Text(block.MeasuredLower[at]));
        row[_added[4]].Set(Text(block.MeasuredUpper[at]));
        row[_added[5]].Set(Text(block.Dissimilarity[at]));
        row[_added[6]].Set(known ? block.Applicable[at] ? "yes" : "no" : "");
        row[_added[7]].Set(fault ?? _predictions.StatusOf(at));
        if (_added == AddedOfRate)
        {
            row[_added[8]].Set(Text(DaysOf(block.Predictions[at])));
            row[_added[9]].Set(Text(DaysOf(block.Upper[at])));
            row[_added[10]].Set(Text(DaysOf(block.Lower[at])));
        }
    }

    /// <summary>Numbers begin with a minus rightly; any other text that a spreadsheet would compute is made text again.</summary>
    private static string Harmless(string text) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out _) ? text : SpreadsheetSafe.Text(text);

    private static float DaysOf(float rate) => (float)HalfLife.Days(rate);

    private static string Text(float value) => float.IsFinite(value) ? Invariant($"{value:R}") : "";
}
