namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Titles and notes beside a table that say that litter was not dried before a weighing, where the campaign says that all of it
/// is dried in an oven.</summary>
public class UndriedLines
{
    private static readonly string Table = AskedSheet.Head("Before (g),After (g)") + AskedSheet.Bags("1", "2.40,1.30", "2.60,2.00")
        + AskedSheet.Bags("2", "2.41,1.31", "2.61,2.01");

    private static string Above(string line) => $"\"{line}\"\n\n{Table}";

    [Theory]
    [InlineData("Litter was not dried before the first weighing", "first")]
    [InlineData("Not dried before burial; oven 60 °C after", "first")]
    [InlineData("Final weights are straight from the soil, not dried", "last")]
    [InlineData("We forgot to dry the bags after digging up.", "last")]
    [InlineData("Litter was weighed as delivered, before the bags were filled", "first")]
    [InlineData("Einwaage ungetrocknet, Rückwaage nach 48 h Trockenschrank", "first")]
    [InlineData("Die Streu wurde vor dem ersten Wiegen nicht getrocknet", "first")]
    [InlineData("Nachher = Frischgewicht", "last")]
    [InlineData("La hojarasca se pesó sin secar antes de enterrarla", "first")]
    [InlineData("Peso final en fresco", "last")]
    [InlineData("Litière pesée telle quelle, sans séchage, avant enfouissement", "first")]
    [InlineData("Les sachets n’ont pas été séchés après", "last")]
    public void A_line_that_says_not_dried_is_asked_about_and_goes_before_the_campaign(string line, string weighing)
    {
        Question question = Assert.Single(AskedSheet.Ask(Above(line)).Questions);
        Assert.Equal(("undried-said", weighing), (question.Id, question.Suggested));
        Assert.All(AskedSheet.Read(Above(line), ("undried-said", weighing)), bag => Assert.Equal(
            weighing == "first" ? (Drying.None, Drying.Oven) : (Drying.Oven, Drying.None), (bag.DryingInitial!.Value, bag.Drying!.Value)));
        Assert.All(AskedSheet.Read(Above(line), ("undried-said", "no")), bag => Assert.Equal(
            (Drying.Oven, Drying.Oven), (bag.DryingInitial!.Value, bag.Drying!.Value)));
    }

    [Fact]
    public void A_line_below_the_table_says_it_too() =>
        Assert.Equal(["undried-said"], AskedSheet.Ask(Table + "\n\"Final weights are straight from the soil, not dried\"\n").Ids());

    [Theory]
    [InlineData("All bags dried at 60 °C before both weighings")]
    [InlineData("Bags came up wet and were dried for two days")]
    [InlineData("Wet meadow behind the school")]
    [InlineData("Feuchte Wiese hinter der Schule")]
    [InlineData("Prado húmedo")]
    [InlineData("Prairie humide près de l’école")]
    [InlineData("Mass before and after drying in the oven")]
    public void Wet_ground_and_dried_bags_are_none(string line) => Assert.DoesNotContain("undried-said", AskedSheet.Ask(Above(line)).Ids());

    [Theory]
    [InlineData("Attention: our balance shows 0.3 g too much in all final weighings")]
    [InlineData("Unsere Waage zeigte nachher 0,3 g zu viel")]
    [InlineData("Nuestra balanza marca 0,3 g de más en todas las pesadas")]
    [InlineData("Notre balance affiche 0,3 g de trop à toutes les pesées")]
    public void A_balance_that_is_off_is_asked_about(string line) => Assert.Contains("line-of-fault", AskedSheet.Ask(Above(line)).Ids());
}
