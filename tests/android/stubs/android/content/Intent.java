package android.content;

import android.net.Uri;
import android.os.Parcelable;
import java.util.TreeMap;

public class Intent implements Parcelable {
    public static final String ACTION_BOOT_COMPLETED = "android.intent.action.BOOT_COMPLETED";
    public static final String ACTION_MY_PACKAGE_REPLACED =
            "android.intent.action.MY_PACKAGE_REPLACED";
    public static final String ACTION_TIMEZONE_CHANGED = "android.intent.action.TIMEZONE_CHANGED";
    public static final String ACTION_TIME_CHANGED = "android.intent.action.TIME_SET";
    public static final String ACTION_INSERT = "android.intent.action.INSERT";
    public static final String ACTION_SEND = "android.intent.action.SEND";
    public static final String ACTION_OPEN_DOCUMENT = "android.intent.action.OPEN_DOCUMENT";
    public static final String CATEGORY_OPENABLE = "android.intent.category.OPENABLE";
    public static final String EXTRA_MIME_TYPES = "android.intent.extra.MIME_TYPES";
    public static final String EXTRA_STREAM = "android.intent.extra.STREAM";
    public static final String EXTRA_TEXT = "android.intent.extra.TEXT";
    public static final int FLAG_GRANT_READ_URI_PERMISSION = 1;
    public static final int FLAG_GRANT_WRITE_URI_PERMISSION = 2;
    public final TreeMap<String, Object> extras = new TreeMap<>();
    public String action;
    public String type;
    public Uri data;
    public int flags;
    public String category;
    public ClipData clip;
    public Intent chosen;
    public Class<?> receiver;

    public Intent() {}

    public Intent(String action) {
        this.action = action;
    }

    public Intent(Context context, Class<?> receiver) {
        this.receiver = receiver;
    }

    public static Intent createChooser(Intent target, CharSequence title) {
        Intent chooser = new Intent("android.intent.action.CHOOSER");
        chooser.chosen = target;
        return chooser;
    }

    public String getAction() {
        return action;
    }

    public int getIntExtra(String name, int otherwise) {
        return (Integer) extras.getOrDefault(name, otherwise);
    }

    public Intent setType(String type) {
        this.type = type;
        return this;
    }

    public Intent setData(Uri data) {
        this.data = data;
        return this;
    }

    public Uri getData() {
        return data;
    }

    public Intent addCategory(String category) {
        this.category = category;
        return this;
    }

    public void setClipData(ClipData clip) {
        this.clip = clip;
    }

    public Intent addFlags(int flags) {
        this.flags |= flags;
        return this;
    }

    public Intent putExtra(String name, int value) {
        extras.put(name, value);
        return this;
    }

    public Intent putExtra(String name, long value) {
        extras.put(name, value);
        return this;
    }

    public Intent putExtra(String name, boolean value) {
        extras.put(name, value);
        return this;
    }

    public Intent putExtra(String name, String value) {
        extras.put(name, value);
        return this;
    }

    public Intent putExtra(String name, String[] value) {
        extras.put(name, String.join("|", value));
        return this;
    }

    public Intent putExtra(String name, CharSequence value) {
        extras.put(name, value);
        return this;
    }

    public Intent putExtra(String name, Parcelable value) {
        extras.put(name, value);
        return this;
    }

    public String told() {
        StringBuilder told = new StringBuilder();
        for (String key : extras.keySet()) {
            Object value = extras.get(key);
            told.append(key).append('=').append(value).append(':');
            told.append(value.getClass().getSimpleName()).append('\n');
        }
        return told.toString();
    }
}
