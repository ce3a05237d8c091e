namespace DecayAtlas.Figures.Drawing;

/// <summary>Colours of a scale, from 0 to 1. All ramps keep their order in a grey print or for readers with a colour vision deficiency:
/// viridis (van der Walt and Smith 2015, CC0) for amounts; of ColorBrewer (Brewer 2002, Apache 2.0) yellow to brown (YlOrBr) for
/// shares, and purple to orange (PuOr) for change on either side of a middle. Straight lines between published stops; viridis stays
/// within 2/255 of its full table.</summary>
public sealed class Ramp
{
    private readonly SKColor[] _stops;

    private Ramp(string stops)
    {
        Stops = stops.Split(' ');
        _stops = [.. Stops.Select(SKColor.Parse)];
    }

    public static Ramp Rates { get; } = new(
        "#440154 #481568 #482677 #453781 #3f4788 #39558c #32648e #2d718e #287d8e #238a8d #1f968b #20a386 #29af7f #3cbc75 #56c667 "
        + "#74d055 #94d840 #b8de29 #dce318 #fde725");

    /// <summary>A second amount that is shown beside the first: YlOrBr without its palest stop, much is dark.</summary>
    public static Ramp Shares { get; } = new("#fff7bc #fee391 #fec44f #fe9929 #ec7014 #cc4c02 #993404 #662506");

    public static Ramp Change { get; } = new("#2d004b #542788 #8073ac #b2abd2 #d8daeb #f7f7f7 #fee0b6 #fdb863 #e08214 #b35806 #7f3b08");

    /// <summary>Colours at even steps, as #rrggbb.</summary>
    public IReadOnlyList<string> Stops { get; }

    /// <summary>The colour at 0 to 1; beyond, the end colours.</summary>
    public SKColor At(double fraction)
    {
        double place = Math.Clamp(fraction, 0, 1) * (_stops.Length - 1);
        int below = Math.Min((int)place, _stops.Length - 2);
        return Mix(_stops[below], _stops[below + 1], place - below);
    }

    /// <summary>(1 − share) of one colour and share of another.</summary>
    public static SKColor Mix(SKColor one, SKColor other, double share)
    {
        byte Channel(byte a, byte b) => (byte)Math.Round(a + (b - a) * share);
        return new(Channel(one.Red, other.Red), Channel(one.Green, other.Green), Channel(one.Blue, other.Blue));
    }
}
