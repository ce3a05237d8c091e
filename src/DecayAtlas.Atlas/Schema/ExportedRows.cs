namespace DecayAtlas.Atlas.Schema;

/// <summary>Rows of one file of a table as they go out for people: the declared columns and the partition keys behind them, without
/// what only programs read.</summary>
internal sealed class ExportedRows(IReadOnlyList<ColumnInfo> infos, IReadOnlyList<ColumnValues> columns)
{
    private readonly ColumnDigits _digits = new(infos);

    public int Count => columns[0].Count;

    /// <summary>A text, a whole number, a yes or no, a day, a number with its decimals, or null.</summary>
    public object? this[int column, int row] => columns[column] switch
    {
        TextValues text => text.Values[row],
        PlainValues<double> number => number.Present[row] ? DigitsOf(column, row, number.Values[row]) : null,
        PlainValues<int> whole => whole.Present[row] ? whole.Values[row] : null,
        PlainValues<bool> truth => truth.Present[row] ? truth.Values[row] : null,
        PlainValues<DateOnly> day => day.Present[row] ? day.Values[row] : null,
        _ => throw new NotSupportedException($"Column {infos[column].Name} can't be exported."),
    };

    private ExportedNumber DigitsOf(int column, int row, double value) => new(value, _digits.DecimalsOf(column, value,
        other => columns[other] is PlainValues<double> numbers && numbers.Present[row] ? numbers.Values[row] : null));
}

/// <summary>A number with as many decimals as its error supports; without decimals it has seven significant digits.</summary>
internal readonly record struct ExportedNumber(double Value, int? Decimals)
{
    public double Rounded => ColumnDigits.Rounded(Value, Decimals);

    public override string ToString() => ColumnDigits.Text(Value, Decimals);
}
