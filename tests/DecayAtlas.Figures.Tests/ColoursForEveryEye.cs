using System.Text.RegularExpressions;

namespace DecayAtlas.Figures.Tests;

/// <summary>The colours that pages get, as their style states them, by day and by night.</summary>
public partial class ColoursForEveryEye
{
    /// <summary>Everything that is read, on everything that it is written on: WCAG 2.2, criterion 1.4.3, asks 4.5.</summary>
    [Theory]
    [InlineData("ink", "paper card hint warn land sea")]
    [InlineData("soft", "paper card")]
    [InlineData("moss", "paper card hint warn")]
    [InlineData("moss-deep", "paper card")]
    [InlineData("on-moss", "moss moss-deep")]
    [InlineData("blue", "paper card")]
    [InlineData("rust", "paper card")]
    [InlineData("card", "rust")]
    public void Letters_stand_out_from_their_ground(string letters, string grounds) => Assert.All(Lights, light => Assert.All(
        grounds.Split(' '), ground => Assert.True(SeenColours.Contrast(light[letters], light[ground]) >= 4.5,
            $"{letters} on {ground}: {SeenColours.Contrast(light[letters], light[ground]):0.00}")));

    /// <summary>Marks that carry a meaning by themselves: criterion 1.4.11 asks 3.</summary>
    [Theory]
    [InlineData("blue rust green violet indigo ochre mauve brown above below step-1 step-2 step-3 step-4 step-5 ink soft")]
    public void Marks_stand_out_from_the_ground_of_a_figure(string marks) => Assert.All(Lights, light => Assert.All(marks.Split(' '),
        mark => Assert.True(SeenColours.Contrast(light[mark], light["card"]) >= 3,
            $"{mark}: {SeenColours.Contrast(light[mark], light["card"]):0.00}")));

    /// <summary>Series on paper and in the dark, the classes of the joint map, and these where they are a guess.</summary>
    [Theory, InlineData("light"), InlineData("dark"), InlineData("joint"), InlineData("pale")]
    public void Categories_stay_apart_for_every_colour_vision(string set)
    {
        string[] colours = set switch
        {
            "joint" => [.. HouseColours.Joint],
            "pale" => [.. HouseColours.JointPale],
            _ => [.. HouseColours.Series.Select(t => set == "dark" ? t.Dark : t.Light)],
        };
        // a difference of 10 in CIE Lab is plain to see; the set of Okabe and Ito (2008) reaches 16
        ApartByMore(16, colours);
    }

    [Theory, InlineData(false), InlineData(true)]
    public void Above_and_below_stay_apart_for_every_colour_vision(bool isDark) => ApartByMore(40,
        [.. new[] { HouseColours.Above, HouseColours.Below }.Select(t => isDark ? t.Dark : t.Light)]);

    /// <summary>More is always further from the ground, and neighbours are told apart; 8 is common practice, no source.</summary>
    [Theory, InlineData(false), InlineData(true)]
    public void Steps_of_an_ordered_quantity_keep_their_order_for_every_colour_vision(bool isDark)
    {
        string[] steps = [.. HouseColours.Ordered(5).Select(t => isDark ? t.Dark : t.Light)];
        Assert.All(SeenColours.Visions.Values, seen =>
        {
            double[] light = [.. steps.Select(c => SeenColours.Lab(c, seen)[0])];
            Assert.Equal(isDark ? light.Order() : light.OrderDescending(), light);
            Assert.All(steps.Zip(steps.Skip(1)), pair => Assert.True(SeenColours.Apart(pair.First, pair.Second, seen) > 8));
        });
    }

    [Theory, InlineData(1), InlineData(2), InlineData(3), InlineData(5)]
    public void No_two_of_up_to_five_steps_share_a_colour(int count) =>
        Assert.Equal(count, HouseColours.Ordered(count).Distinct().Count());

    /// <summary>Ramps of amounts only get lighter or only darker, a ramp of changes does so from its middle to either end, whoever
    /// looks.</summary>
    [Theory, InlineData("rates"), InlineData("shares"), InlineData("change")]
    public void Ramps_keep_their_order_for_every_colour_vision(string ramp)
    {
        string[] stops = [.. (ramp == "rates" ? Ramp.Rates : ramp == "shares" ? Ramp.Shares : Ramp.Change).Stops];
        Assert.All(SeenColours.Visions, vision =>
        {
            double[] light = [.. stops.Select(c => SeenColours.Lab(c, vision.Value)[0])];
            int turn = ramp == "change" ? light.Length / 2 : ramp == "rates" ? light.Length - 1 : 0;
            Assert.True(light[..(turn + 1)].SequenceEqual(light[..(turn + 1)].Order()), $"{vision.Key}: rising to its middle");
            Assert.True(light[turn..].SequenceEqual(light[turn..].OrderDescending()), $"{vision.Key}: falling from its middle");
        });
    }

    private static void ApartByMore(double least, string[] colours) => Assert.All(SeenColours.Visions, vision =>
    {
        for (int i = 0; i < colours.Length; i++)
        {
            for (int j = 0; j < i; j++)
            {
                double apart = SeenColours.Apart(colours[i], colours[j], vision.Value);
                Assert.True(apart > least, $"{vision.Key}: {colours[i]} and {colours[j]} are {apart:0.0} apart");
            }
        }
    });

    /// <summary>The first block of the style is the day, the last the night.</summary>
    private static Dictionary<string, string>[] Lights
    {
        get
        {
            string[] blocks = [.. HouseColours.Css.Split('\n').Where(line => line.Contains("--paper:", StringComparison.Ordinal))];
            return [.. new[] { blocks[0], blocks[^1] }.Select(block => Property().Matches(block)
                .ToDictionary(m => m.Groups["name"].Value, m => m.Groups["colour"].Value))];
        }
    }

    [GeneratedRegex("--(?<name>[a-z0-9-]+): (?<colour>#[0-9a-f]{6});", RegexOptions.NonBacktracking)]
    private static partial Regex Property();
}
