package android.net;

import android.os.Parcelable;
import java.io.UnsupportedEncodingException;
import java.net.URLDecoder;

public class Uri implements Parcelable {
    private final String text;

    private Uri(String text) {
        this.text = text;
    }

    public static Uri parse(String text) {
        return new Uri(text);
    }

    public String getLastPathSegment() {
        String last = text.substring(text.lastIndexOf('/') + 1);
        try {
            return URLDecoder.decode(last, "UTF-8");
        } catch (UnsupportedEncodingException impossible) {
            throw new IllegalStateException(impossible);
        }
    }

    @Override
    public String toString() {
        return text;
    }
}
