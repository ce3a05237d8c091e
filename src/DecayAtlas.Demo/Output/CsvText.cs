using System.Globalization;
using nietras.SeparatedValues;

namespace DecayAtlas.Demo.Output;

/// <summary>A table as text.</summary>
internal static class CsvText
{
    /// <param name="cellsOf">The columns of a record by name, each with a text, number, day, answer or role; missing stays empty.</param>
    public static string Of<T>(IEnumerable<T> records, Func<T, (string Column, object? Value)[]> cellsOf)
    {
        using SepWriter writer = Sep.New(',').Writer(options => options with { Escape = true }).ToText();
        foreach (T record in records)
        {
            using SepWriter.Row row = writer.NewRow();
            foreach ((string column, object? value) in cellsOf(record)) row[column].Set(Text(value));
        }

        // The same bytes on every system.
        return writer.ToString().ReplaceLineEndings("\n");
    }

    private static string Text(object? value) => value switch
    {
        bool answer => answer ? "yes" : "no",
        double number => number.ToString("0.#########", CultureInfo.InvariantCulture),
        DateOnly day => $"{day:yyyy-MM-dd}",
        LitterRole role => role == LitterRole.Fast ? "fast" : "slow",
        _ => $"{value}",
    };
}
