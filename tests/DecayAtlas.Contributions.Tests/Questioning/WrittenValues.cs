namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>What people write into cells. Degrees are worked out by hand (47 + 48/60 + 22/3600 and so on); the rest says what it
/// is.</summary>
public class WrittenValues
{
    [Theory]
    [InlineData("1,02 g", "1,02", "g", "")]
    [InlineData("850 mg", "850", "mg", "")]
    [InlineData("0,87 (Riss)", "0,87", null, "Riss")]
    [InlineData("aprox. 2,05", "2,05", null, "aprox.")]
    [InlineData("47.9%", "47.9", "percent", "")]
    [InlineData("2'431", "2'431", null, "")]
    [InlineData("1,994.0", "1,994.0", null, "")]
    public void A_number_is_read_with_what_stands_beside_it(string text, string digits, string? unit, string beside) =>
        Assert.Equal(new WrittenNumber(digits, unit, beside), WrittenNumber.Of(text));

    [Theory]
    [InlineData("1S")]
    [InlineData("12th")]
    [InlineData("verloren")]
    [InlineData("see row 3")]
    [InlineData("")]
    public void What_is_no_number_is_none(string text) => Assert.Null(WrittenNumber.Of(text));

    [Theory]
    [InlineData("1.994,5", ',', '.', "1994.5")]
    [InlineData("2,454.5", '.', ',', "2454.5")]
    [InlineData("2'431", '.', '\'', "2431")]
    [InlineData("1.31", '\0', '\0', "1.31")]
    [InlineData("1,31", '\0', '\0', "1.31")]
    [InlineData("1,31", '.', '\0', null)]
    [InlineData("19.94", ',', '.', null)]
    public void Signs_mean_what_the_column_says_or_nothing(string digits, char decimalSign, char thousands, string? plain) =>
        Assert.Equal(plain, WrittenNumber.Plain(digits, decimalSign, thousands));

    [Theory]
    [InlineData("12 mai 2025", 12, 5, 2025)]
    [InlineData("May 19, 2025", 19, 5, 2025)]
    [InlineData("3. Juni", 3, 6, null)]
    [InlineData("12-oct-25", 12, 10, 25)]
    [InlineData("12th May", 12, 5, null)]
    [InlineData("7-ago-25", 7, 8, 25)]
    [InlineData("1er août 2025", 1, 8, 2025)]
    [InlineData("14. März 2025", 14, 3, 2025)]
    [InlineData("15 de mayo de 2025", 15, 5, 2025)]
    public void Months_have_names_in_four_languages(string text, int day, int month, int? year)
    {
        WrittenDay read = MonthNames.Read(text)!;
        Assert.Equal((day, month, year, true), (read.First, read.Second, read.Year, read.IsNamed));
    }

    [Theory]
    [InlineData("47°48'22\"N", 47.806111, 'N')]
    [InlineData("1°18'05\"O", 1.301389, 'O')]
    [InlineData("10° 24,3' O", 10.405, 'O')]
    [InlineData("55,5213 E", 55.5213, 'E')]
    [InlineData("-21,1402", -21.1402, null)]
    [InlineData("36,7 Sur", 36.7, 'S')]
    [InlineData("12,5 Ost", 12.5, 'E')]
    public void Degrees_are_read_as_four_languages_write_them(string text, double degrees, char? letter)
    {
        WrittenDegrees read = PlaceText.Of(text)!;
        Assert.Equal(degrees, read.Degrees, 6);
        Assert.Equal(letter, read.Letter);
    }

    [Theory]
    [InlineData("46,8123 N / 71,2145 O", 46.8123, 71.2145)]
    [InlineData("41.6120, -4.7012", 41.612, -4.7012)]
    [InlineData("S33.7712 E20.1184", 33.7712, 20.1184)]
    [InlineData("N 51,3128  O 8,9041", 51.3128, 8.9041)]
    [InlineData("36° 42,6' S\n72° 21,3' O", 36.71, 72.355)]
    [InlineData("8.41 W, 53.23 N", 53.23, 8.41)]
    public void Both_coordinates_may_stand_in_one_cell(string text, double latitude, double longitude)
    {
        (WrittenDegrees first, WrittenDegrees second) = PlaceText.PairOf(text)!.Value;
        Assert.Equal(latitude, first.Degrees, 6);
        Assert.Equal(longitude, second.Degrees, 6);
    }

    [Theory]
    [InlineData("357522")]
    [InlineData("Prairie du Gué")]
    [InlineData("47°75'N")]
    public void What_is_no_place_is_none(string text) => Assert.Null(PlaceText.Of(text));

    [Theory]
    [InlineData("Haie / talus nord", "Haie-talus-nord")]
    [InlineData("Hügli / Weg 1", "Huegli-Weg-1")]
    [InlineData("Érablière", "Erabliere")]
    [InlineData("Cañadón", "Canadon")]
    [InlineData("  ", "")]
    public void A_name_becomes_an_id(string name, string id) => Assert.Equal(id, Identifier.Of(name));

    [Theory]
    [InlineData("Gewicht vorher", "First")]
    [InlineData("peso seco final", "Last")]
    [InlineData("masse initiale du sachet lent", "First")]
    [InlineData("m0", "First")]
    [InlineData("m_t", "Last")]
    [InlineData("Startgewicht", "First")]
    [InlineData("dug up", "Retrieving")]
    [InlineData("fecha de entierro", "Burying")]
    [InlineData("Desentierro", "Retrieving")]
    [InlineData("poids après", "Last")]
    [InlineData("Verlust (%)", "Loss")]
    public void Names_of_columns_are_understood_in_four_languages(string name, string concept) =>
        Assert.Contains(Enum.Parse<Concept>(concept), HeaderWords.Read(name, null).Concepts);

    private static string OneWithoutYear => (AskedSheet.Head("Before (g),After (g)") + AskedSheet.Bags("1", "2.40,1.30", "2.60,2.00")
        + AskedSheet.Bags("2", "2.41,1.31", "2.61,2.01") + AskedSheet.Bags("3", "2.42,1.32", "2.62,2.02"))
        .Replace("2025-05-14", "14.05.2025", StringComparison.Ordinal).Replace("2025-08-12", "12.08.2025", StringComparison.Ordinal)
        .Replace("2.41,1.31,14.05.2025", "2.41,1.31,14.05.", StringComparison.Ordinal);

    [Fact]
    public void One_day_without_a_year_is_asked_alone()
    {
        Question question = Assert.Single(AskedSheet.Ask(OneWithoutYear).Questions);
        Assert.Equal(("date-year", "No year stands in “14.05.”. Which year is it?"), (question.Id, question.Text));
        Assert.All(AskedSheet.Read(OneWithoutYear, ("date-year", "2025")), bag =>
            Assert.Equal((new DateOnly(2025, 5, 14), new DateOnly(2025, 8, 12)), (bag.BuriedOn, bag.RetrievedOn)));
    }

    [Theory]
    [InlineData("2031")]
    [InlineData("25")]
    [InlineData("last year")]
    public void A_year_that_cannot_be_is_answered_with_those_that_can(string year)
    {
        Question question = Assert.Single(AskedSheet.Ask(OneWithoutYear, ("date-year", year)).Questions);
        Assert.StartsWith($"“{year}” cannot be the year of burial, the last that can is 2026.", question.Text, StringComparison.Ordinal);
        Assert.Equal(["2026", "2025", "2024"], question.Choices.Take(3).Select(choice => choice.Value));
    }
}
