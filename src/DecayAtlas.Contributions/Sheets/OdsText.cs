using System.Globalization;
using System.Text;
using System.Xml;

namespace DecayAtlas.Contributions.Sheets;

/// <summary>The text of a cell of an OpenDocument spreadsheet, and of the comment that hangs on it.</summary>
internal static class OdsText
{
    /// <summary>Reads from the start of a cell to its end.</summary>
    public static (string Text, string Comment) In(XmlReader xml)
    {
        StringBuilder text = new(), comment = new();
        int depth = xml.Depth, annotation = -1, skipped = -1;
        while (xml.Read() && xml.Depth > depth)
        {
            if (xml.Depth > 64)
                throw new WorkbookTooLargeException("XML nested too deeply");
            if (annotation >= 0 && xml.Depth <= annotation)
                annotation = -1;
            if (skipped >= 0 && xml.Depth <= skipped)
                skipped = -1;
            StringBuilder to = annotation >= 0 ? comment : text;
            if (xml.NodeType == XmlNodeType.Element)
            {
                switch (xml.LocalName)
                {
                    case "annotation" when !xml.IsEmptyElement:
                        annotation = xml.Depth;
                        break;
                    // who wrote a comment and when is no part of it; shapes are not cells
                    case "creator" or "date" or "date-string" or "creator-initials" or "frame" or "custom-shape" when !xml.IsEmptyElement:
                        skipped = skipped < 0 ? xml.Depth : skipped;
                        break;
                    case "p" when to.Length > 0 && skipped < 0:
                        to.Append(' ');
                        break;
                    case "line-break" or "tab" or "s" when skipped < 0:
                        int times = int.TryParse(xml.GetAttribute("text:c"), NumberStyles.None, CultureInfo.InvariantCulture, out int said)
                            ? Math.Min(said, 100) : 1;
                        to.Append(' ', times);
                        break;
                }
            }
            else if (xml.NodeType is XmlNodeType.Text or XmlNodeType.SignificantWhitespace && skipped < 0)
            {
                to.Append(xml.Value);
            }
        }
        return (text.ToString(), comment.ToString().Trim());
    }
}
