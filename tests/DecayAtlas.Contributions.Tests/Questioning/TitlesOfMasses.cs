namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>What a title over the table says of how its bags were weighed, where the names of columns do not say it.</summary>
public class TitlesOfMasses
{
    private static string Under(string title) => $"{title}\n\n" + AskedSheet.Head("Before (g),After (g)")
        + AskedSheet.Bags("1", "2.40,1.30", "2.60,2.00") + AskedSheet.Bags("2", "2.41,1.31", "2.61,2.01")
        + AskedSheet.Bags("3", "2.42,1.32", "2.62,2.02");

    // 2.40 g less the 0.50 g of the title; with the campaign's 0.4 g for both masses it would be 2.00 and 0.90
    [Theory]
    [InlineData("\"Nachher ohne Beutel, Leerbeutel wiegt 0,50 g\"")]
    [InlineData("\"Después sin bolsa, la bolsa vacía pesa 0,50 g\"")]
    [InlineData("\"Après sans sachet, sachet vide 0,50 g\"")]
    [InlineData("\"After digging without bag, empty bag 0.50 g\"")]
    public void A_title_is_asked_about_and_goes_before_the_campaign(string title)
    {
        string[] asked = AskedSheet.Ask(Under(title)).Ids();
        Assert.Equal(["basis-lines", "tare:F", "tare:S"], asked.Order(StringComparer.Ordinal));
        ContributionTables read = AskedSheet.Tables(Under(title), ("basis-lines", "gross-litter"), ("tare:F", "sheet"), ("tare:S", "sheet"));
        BagRow first = read.Bags.First(bag => bag.LotId == "F");
        Assert.Equal((1.90, 1.30), (Math.Round(first.MassInitialGrams!.Value, 6), Math.Round(first.MassFinalGrams!.Value, 6)));
    }

    [Fact]
    public void A_title_of_something_else_is_not_asked_about() =>
        Assert.Empty(AskedSheet.Ask(Under("\"Litter bags of the hill school, two by two\"")).Ids());
}
