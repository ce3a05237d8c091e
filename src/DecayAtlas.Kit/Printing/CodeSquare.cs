using System.Text;
using QRCoder;

namespace DecayAtlas.Kit.Printing;

/// <summary>A code to scan (QR, ISO/IEC 18004), as a picture in a page. It holds plain text and no address, so that a telephone shows the
/// number and goes nowhere.</summary>
internal static class CodeSquare
{
    public static string TextOf(GroupKit kit, string bag) => $"{kit.Campaign.Id} {kit.Group.Id} {bag}";

    public static Markup Draw(string text)
    {
        using QRCodeGenerator generator = new();
        using QRCodeData code = generator.CreateQrCode(text, QRCodeGenerator.ECCLevel.M);
        int size = code.ModuleMatrix.Count;
        StringBuilder path = new();
        for (int y = 0; y < size; y++)
        {
            for (int x = 0; x < size; x++)
            {
                int from = x;
                while (x < size && code.ModuleMatrix[y][x])
                    x++;
                if (x > from)
                    path.Append(Invariant($"M{from} {y}h{x - from}v1h-{x - from}z"));
            }
        }

        return Markup.Of(
            $"""
            <svg class="code" viewBox="0 0 {size} {size}" role="img" aria-label="{text}" shape-rendering="crispEdges"><path fill="#fff"
            d="M0 0h{size}v{size}h-{size}z"/><path d="{path.ToString()}"/></svg>
            """);
    }
}
