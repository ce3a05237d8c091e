namespace DecayAtlas.Contributions.Tests;

/// <summary>A year of 365.25 days, a month its twelfth; by hand.</summary>
public class TimesInNames
{
    [Theory]
    [InlineData("k (yr-1)", 365.25)]
    [InlineData("k (per year)", 365.25)]
    [InlineData("k (a⁻¹)", 365.25)]
    [InlineData("k [a^-1]", 365.25)]
    [InlineData("k / Jahr", 365.25)]
    [InlineData("k por año", 365.25)]
    [InlineData("k par an", 365.25)]
    [InlineData("k (week-1)", 7.0)]
    [InlineData("k pro Woche", 7.0)]
    [InlineData("k (mois-1)", 30.4375)]
    [InlineData("k (d-1)", null)]
    [InlineData("k per day", null)]
    [InlineData("k", null)]
    [InlineData("decay-1", null)]
    [InlineData("k 2024-1", null)]
    public void A_rate_is_of_the_time_that_its_name_says(string name, double? days) => Assert.Equal(days, TimeUnits.DaysPer(name));

    [Theory]
    [InlineData("Durée (semaines)", 7.0)]
    [InlineData("Dauer in Wochen", 7.0)]
    [InlineData("duración, meses", 30.4375)]
    [InlineData("exposure [years]", 365.25)]
    [InlineData("Tage", null)]
    [InlineData("days in soil", null)]
    [InlineData("Messung nach Tagen", null)]
    public void A_duration_is_counted_in_what_its_name_says(string name, double? days) => Assert.Equal(days, TimeUnits.DaysOf(name));
}
