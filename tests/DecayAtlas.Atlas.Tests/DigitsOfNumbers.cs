namespace DecayAtlas.Atlas.Tests;

/// <summary>
/// A value goes out to the decimal of the second significant digit of its standard error. Source of the rule: JCGM 100:2008 (GUM), 7.2.6,
/// "it usually suffices to quote u at most to two significant digits", estimates rounded to be consistent with it. Numbers by hand.
/// </summary>
public class DigitsOfNumbers
{
    [Theory]
    // GUM 7.2.6: "if y = 10,057 62 Ohm with u = 27 mOhm, y should be rounded to 10,058 Ohm"
    [InlineData(10.05762, 0.027, "10.058", "0.027")]
    [InlineData(0.0113456, 0.00123, "0.0113", "0.0012")]
    [InlineData(0.0113456, 0.000996, "0.0113", "0.0010")]
    [InlineData(1234.5, 150.0, "1230", "150")]
    [InlineData(-0.00004, 0.012, "0.000", "0.012")]
    [InlineData(0.5, 0.1, "0.50", "0.10")]
    [InlineData(0.123456789, 0.0, "0.1234568", "0")]
    [InlineData(0.123456789, null, "0.1234568", null)]
    public void A_value_stands_to_the_second_digit_of_its_error(double value, double? error, string expected, string? expectedError)
    {
        ColumnInfo[] columns = [Number("k_per_day"), Number("k_u_per_day")];
        double?[] row = [value, error];

        Assert.Equal(expected, TextOf(columns, row, 0));
        Assert.Equal(expectedError, TextOf(columns, row, 1));
    }

    [Fact]
    public void Without_an_error_a_quarter_of_the_interval_counts_and_its_ends_have_the_same_decimals()
    {
        ColumnInfo[] columns = [Number("ratio"), Number("ratio_lower95"), Number("ratio_upper95")];
        double?[] row = [1.234567, 1.034567, 1.474567];   // a quarter of 0.44 is 0.11

        Assert.Equal(["1.23", "1.03", "1.47"], [TextOf(columns, row, 0), TextOf(columns, row, 1), TextOf(columns, row, 2)]);
        Assert.Equal("1.234567", TextOf(columns, [1.234567, 1.034567, null], 0));
    }

    [Fact]
    public void A_mean_with_scatter_alone_has_one_decimal_more_and_what_was_weighed_stays_as_it_was()
    {
        Assert.Equal("0.2346", TextOf([Number("s_mean"), Number("s_sd")], [0.234567, 0.0512], 0));
        Assert.Equal("0.23", TextOf([Number("s_mean"), Number("s_sd"), Number("s_lower95"), Number("s_upper95")],
            [0.234567, 0.0512, 0.03, 0.45], 0));
        Assert.Equal("2.134", TextOf([Number("mass_initial_g")], [2.134], 0));
        // a grid's single precision, as the double nearest to it
        Assert.Equal("12.3", TextOf([Number("value")], [12.300000190734863], 0));
        Assert.Equal("-123.456789", TextOf([Number("decimal_longitude")], [-123.456789012], 0));
    }

    private static string? TextOf(ColumnInfo[] columns, double?[] row, int column) => row[column] is not { } value ? null
        : ColumnDigits.Text(value, new ColumnDigits(columns).DecimalsOf(column, value, other => row[other]));

    private static ColumnInfo Number(string name) => new(name, "number", null, "");
}
