namespace DecayAtlas.Figures.Drawing;

/// <summary>Colours of a scale, from 0 to 1. All ramps keep their order in a grey print or for readers with a colour vision deficiency.
/// Straight lines between published stops; viridis stays within 2/255 of its full table.</summary>
public sealed class Ramp
{
    private readonly SKColor[] _stops;

    private Ramp(string palette, string stops)
    {
        Palette = palette;
        Stops = stops.Split(' ');
        _stops = [.. Stops.Select(SKColor.Parse)];
    }

    /// <summary>Amounts: van der Walt and Smith 2015.</summary>
    public static Ramp Rates { get; } = new("viridis",
        "#440154 #481568 #482677 #453781 #3f4788 #39558c #32648e #2d718e #287d8e #238a8d #1f968b #20a386 #29af7f #3cbc75 #56c667 "
        + "#74d055 #94d840 #b8de29 #dce318 #fde725");

    /// <summary>A second amount that is shown beside the first, yellow to brown without the palest stop, much is dark: Brewer
    /// 2002.</summary>
    public static Ramp Shares { get; } = new("ColorBrewer YlOrBr",
        "#fff7bc #fee391 #fec44f #fe9929 #ec7014 #cc4c02 #993404 #662506");

    /// <summary>How unsure a value is, pale where it is sure, without the palest stop: Brewer 2002.</summary>
    public static Ramp Unsure { get; } = new("ColorBrewer RdPu",
        "#fde0dd #fcc5c0 #fa9fb5 #f768a1 #dd3497 #ae017e #7a0177 #49006a");

    /// <summary>Change to either side of a middle, purple to orange: Brewer 2002.</summary>
    public static Ramp Change { get; } = new("ColorBrewer PuOr",
        "#2d004b #542788 #8073ac #b2abd2 #d8daeb #f7f7f7 #fee0b6 #fdb863 #e08214 #b35806 #7f3b08");

    /// <summary>The published palette that the stops are of, as the third-party notices name it.</summary>
    public string Palette { get; }

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
