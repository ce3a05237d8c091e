using System.Text.RegularExpressions;
using ZXing;
using ZXing.Common;
using ZXing.QrCode;

namespace DecayAtlas.Kit.Tests;

/// <summary>Codes as an outside reader reads them, from the pictures that stand on the labels.</summary>
public partial class CodesToScan
{
    [Theory]
    [InlineData("moss-watchers", 101)]
    [InlineData("quillmoor-upper-school", 1)]
    public void Every_label_has_a_code_that_says_campaign_group_and_bag(string group, int first)
    {
        GroupKit kit = ExampleKits.Of(group);

        string[] read = [.. Code().Matches(ExampleKits.Page("labels", kit)).Select(code => Read(int.Parse(code.Groups[1].Value,
            System.Globalization.CultureInfo.InvariantCulture), code.Groups[2].Value))];

        Assert.Equal(kit.HoleNumbers.SelectMany(hole => new[] { "A", "B" }.Select(bag => $"quillmoor-spring-2027 {group} {hole}{bag}")),
            read);
        Assert.StartsWith($"quillmoor-spring-2027 {group} {first}A", read[0], StringComparison.Ordinal);
    }

    // A module of the picture is drawn as four by four dots; a scanner needs that the white edge is in the picture.
    private static string Read(int size, string path)
    {
        const int dots = 4;
        byte[] grey = new byte[size * dots * size * dots];
        Array.Fill(grey, (byte)255);
        foreach (int[] run in Run().Matches(path).Select(run => run.Groups.Values.Skip(1)
            .Select(g => int.Parse(g.Value, System.Globalization.CultureInfo.InvariantCulture)).ToArray()))
        {
            for (int y = run[1] * dots; y < (run[1] + 1) * dots; y++)
                Array.Fill(grey, (byte)0, y * size * dots + run[0] * dots, run[2] * dots);
        }

        LuminanceSource source = new RGBLuminanceSource(grey, size * dots, size * dots, RGBLuminanceSource.BitmapFormat.Gray8);
        return new QRCodeReader().decode(new BinaryBitmap(new HybridBinarizer(source)))?.Text ?? "nothing was read";
    }

    [GeneratedRegex("""<svg class="code" viewBox="0 0 (\d+) \d+".*?<path d="(M[^"]+)"/></svg>""", RegexOptions.Singleline)]
    private static partial Regex Code();

    [GeneratedRegex(@"M(\d+) (\d+)h(\d+)")]
    private static partial Regex Run();
}
