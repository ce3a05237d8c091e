namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Remarks and columns beside the masses that change what a mass means.</summary>
public class RemarksOfBags
{
    private const string Heads = "Loch,Ort,Lat,Long,schnell vorher (g),schnell nachher (g),langsam vorher (g),langsam nachher (g),vergraben,"
        + "ausgegraben,Bemerkung\n";

    private static string Row(int hole, string remark) => FormattableString.Invariant(
        $"{hole},Hecke,48.1,9.2,2.4{hole},1.3{hole},2.6{hole},2.0{hole},2025-05-14,2025-08-07,{remark}\n");

    private static string[] Conditions(string table, params (string, string)[] answers) => [.. AskedSheet.Tables(table, answers).Bags
        .Where(bag => bag.Condition is not null).Select(bag => $"{bag.BurialId} {bag.LotId} {bag.Condition}")];

    [Theory]
    [InlineData("langsamer Beutel gerissen")]
    [InlineData("slow bag torn")]
    [InlineData("sachet lent déchiré")]
    public void A_remark_on_one_litter_is_of_its_bag_alone_and_makes_no_column_of_litters(string remark) =>
        Assert.Equal(["2 S Torn"], Conditions(Heads + Row(1, "") + Row(2, remark) + Row(3, "")));

    [Fact]
    public void A_remark_on_bag_b_is_of_the_slow_one()
    {
        string heads = Heads.Replace("schnell", "Beutel A", StringComparison.Ordinal).Replace("langsam", "Beutel B", StringComparison.Ordinal);
        Assert.Equal(["2 S Roots"], Conditions(heads + Row(1, "") + Row(2, "Wurzeln im Beutel B") + Row(3, "")));
    }

    [Theory]
    [InlineData("schnell: verloren")]
    [InlineData("schnell nicht wiedergefunden")]
    [InlineData("fast bag lost")]
    public void A_lost_bag_that_has_a_mass_is_asked_about(string remark)
    {
        string table = Heads + Row(1, "") + Row(2, remark) + Row(3, "Etikett verloren");
        Assert.Equal(["lost-yet-weighed:" + remark], AskedSheet.Ask(table).Ids());
        Assert.Equal(["2 F Lost"], Conditions(table, ("lost-yet-weighed:" + remark, "lost")));
        Assert.Empty(Conditions(table, ("lost-yet-weighed:" + remark, "-")));
    }

    [Theory]
    [InlineData("Moisture content at start %")]
    [InlineData("Humidité avant (%)")]
    [InlineData("Humedad inicial (%)")]
    [InlineData("Restfeuchte Start (%)")]
    public void Water_in_the_litter_is_no_mass_and_is_asked_about(string head)
    {
        string table = AskedSheet.Head($"Before (g),After (g),{head}") + AskedSheet.Bags("1", "2.40,1.30,6.0", "2.60,2.00,6.5")
            + AskedSheet.Bags("2", "2.41,1.31,6.1", "2.61,2.01,6.6");
        Assert.Equal(["moisture:" + head], AskedSheet.Ask(table).Ids());
        // per cent by hand
        Assert.Equal([0.060, 0.065, 0.061, 0.066], AskedSheet.Read(table, ("moisture:" + head, "percent"))
            .Select(bag => Math.Round(bag.MoistureInitialFraction!.Value, 9)));
    }

    [Fact]
    public void Entrada_and_salida_are_the_two_days()
    {
        string table = "Hoyo,Sitio,Lat,Long,Tipo,Antes (g),Después (g),Entrada,Salida\n" + AskedSheet.Bags("1", "2.40,1.30", "2.60,2.00")
            + AskedSheet.Bags("2", "2.41,1.31", "2.61,2.01");
        Assert.Empty(AskedSheet.Ask(table).Ids());
        Assert.All(AskedSheet.Read(table), bag =>
            Assert.Equal((new DateOnly(2025, 5, 14), new DateOnly(2025, 8, 12)), (bag.BuriedOn, bag.RetrievedOn)));
    }
}
