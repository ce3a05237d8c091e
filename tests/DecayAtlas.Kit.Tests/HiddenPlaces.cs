namespace DecayAtlas.Kit.Tests;

/// <summary>A group that asks for the exact place to be hidden does not expect its name on a page.</summary>
public class HiddenPlaces
{
    private const string Canary = "Krötenwinkel hinter Haus Nummer Elf";

    [Theory]
    [InlineData("de", "ja")]
    [InlineData("es", "sí")]
    [InlineData("es", "SI")]
    [InlineData("fr", "oui")]
    [InlineData("en", "Yes")]
    public void The_id_of_a_hidden_place_is_not_made_of_its_name(string language, string yes)
    {
        using FilledKit kit = Two(language).Place("E6", yes);

        Contribution read = kit.Read().Contribution!;

        Assert.Equal(["Bachufer", "place-2"], read.Sites.Select(site => site.SiteId));
        Assert.Equal(["Bachufer", "Bachufer", "place-2", "place-2"], read.Bags.Select(bag => bag.SiteId).Order(StringComparer.Ordinal));
        // the sender still reads the name; a release leaves it out of such a site
        Assert.Equal((true, Canary), (read.Sites[1].CoordinatesSensitive, read.Sites[1].SiteName));
    }

    [Fact]
    public void It_is_the_same_when_the_name_is_changed_and_when_places_are_added_below()
    {
        using FilledKit changed = Two("de").Place("E6", "ja").Place("A6", "Garten").Hole("B6", "GARTEN")
            .Place("A7", "Wegrand").Place("B7", 53.31).Place("C7", -7.52);

        Assert.Equal(["Bachufer", "place-2", "Wegrand"], changed.Read().Contribution!.Sites.Select(site => site.SiteId));
    }

    [Fact]
    public void An_open_place_that_is_called_so_keeps_its_id_and_no_hole_is_taken_for_the_hidden_one()
    {
        using FilledKit taken = Two("en").Place("A5", "place 2").Hole("B5", "place 2").Place("E6", "yes"),
            unknown = Two("en").Place("E6", "yes").Hole("B5", "place 2");

        Assert.Equal(["place-2", "place-2-x"], taken.Read().Contribution!.Sites.Select(site => site.SiteId));
        Assert.Equal("kit-place-unknown", Assert.Single(unknown.Read().Findings).Code);
    }

    /// <summary>A hole at each of two places.</summary>
    private static FilledKit Two(string language) => new FilledKit(language).Place("A6", Canary).Place("B6", 53.31).Place("C6", -7.51)
        .Hole("B6", Canary).Hole("C6", "2027-04-14").Hole("D6", "2027-07-10").Hole("E6", 3.84).Hole("F6", 1.92).Hole("H6", 4.74)
        .Hole("I6", 3.90);
}
